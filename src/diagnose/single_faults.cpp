#include "single_faults.hpp"

#include <algorithm>
#include <utility>

namespace ringtrue {

namespace {

std::uint64_t hash_of(const Fault& fault) {
  std::uint64_t hash = 0;
  const auto mix = [&hash](std::uint64_t value) {
    // The finalizer of SplitMix64 (Steele, Lea and Flood 2014), from memory.
    hash += value + 0x9E3779B97F4A7C15u;
    hash = (hash ^ (hash >> 30u)) * 0xBF58476D1CE4E5B9u;
    hash = (hash ^ (hash >> 27u)) * 0x94D049BB133111EBu;
    hash ^= hash >> 31u;
  };
  const auto number = [](auto value) {
    return static_cast<std::uint64_t>(static_cast<std::uint32_t>(value));
  };
  mix(number(fault.kind) | number(fault.end) << 8u | number(fault.end2) << 16u |
      number(fault.above ? 1 : 0) << 24u | number(fault.places) << 32u);
  mix(number(fault.element) | number(fault.element2) << 32u);
  mix(number(fault.p) | number(fault.q) << 32u);
  mix(number(fault.reading));
  return hash;
}

}  // namespace

SingleFaults::Id SingleFaults::id(const Fault& fault) {
  if (2 * known_.size() >= slots_.size()) widen_table();
  const std::uint64_t hash = hash_of(fault);
  const auto tag = static_cast<std::uint32_t>(hash >> 32u);
  std::size_t at = hash & (slots_.size() - 1);
  while (slots_[at].id != k_free && (slots_[at].tag != tag || known_[slots_[at].id].fault != fault))
    at = (at + 1) & (slots_.size() - 1);
  if (slots_[at].id == k_free) {
    slots_[at] = {tag, static_cast<std::uint32_t>(known_.size())};
    known_.push_back({fault, Refuted::not_asked});
  }
  return Id{slots_[at].id};
}

void SingleFaults::widen_table() {
  slots_.assign(std::max<std::size_t>(1'024, 2 * slots_.size()), {});
  for (std::uint32_t id = 0; id < known_.size(); ++id) {
    const std::uint64_t hash = hash_of(known_[id].fault);
    std::size_t at = hash & (slots_.size() - 1);
    while (slots_[at].id != k_free) at = (at + 1) & (slots_.size() - 1);
    slots_[at] = {static_cast<std::uint32_t>(hash >> 32u), id};
  }
}

std::span<const SingleFaults::Priced> SingleFaults::Choices::up_to(double max_cost) const {
  const auto end = std::partition_point(faults.begin(), faults.end(),
                                        [max_cost](const Priced& one) { return one.cost <= max_cost; });
  return {faults.begin(), end};
}

std::span<const SingleFaults::Priced> SingleFaults::that_may_explain(ReadingId reading, double max_cost) {
  if (!is_answered(reading, max_cost)) keep(reading, max_cost, find_choices(reading, max_cost, candidates_));
  return choices_.at(reading).up_to(max_cost);
}

std::optional<std::vector<Candidate>> SingleFaults::known_to_explain(ReadingId reading,
                                                                     double max_cost) const {
  const auto at = choices_.find(reading);
  if (at == choices_.end() || at->second.known_up_to < max_cost) return std::nullopt;
  std::vector<Candidate> known;
  for (const Priced& one : at->second.up_to(max_cost)) known.push_back({fault(one.id), one.cost});
  return known;
}

void SingleFaults::look_ahead(const std::vector<Question>& questions, Threads threads) {
  std::vector<Question> open;
  for (const Question& one : questions)
    if (!is_answered(one.reading, one.max_cost)) open.push_back(one);
  std::vector<Found> found(open.size());
  for_each_in_own_place(threads, open.size(), own_, [&](std::size_t i, const Workplace& place) {
    found[i] = find_choices(open[i].reading, open[i].max_cost, place.candidates);
  });
  for (std::size_t i = 0; i < open.size(); ++i)
    keep(open[i].reading, open[i].max_cost, std::exchange(found[i], {}));
}

bool SingleFaults::is_answered(ReadingId reading, double max_cost) const {
  const auto at = choices_.find(reading);
  return at != choices_.end() && at->second.answer(max_cost);
}

SingleFaults::Found SingleFaults::find_choices(ReadingId reading, double max_cost,
                                               const Candidates& candidates) {
  constexpr std::size_t k_very_many = 5'000;
  constexpr double k_less = 0.8;
  double cost = max_cost;
  for (;;) {
    std::vector<Candidate> found = candidates.branch_set({}, reading, cost, Reach::alone, k_very_many);
    if (found.size() <= k_very_many) return {std::move(found), cost};
    cost *= k_less;
  }
}

void SingleFaults::keep(ReadingId reading, double max_cost, const Found& found) {
  Choices& choices = choices_[reading];
  if (found.up_to < max_cost) choices.too_many_from = std::min(choices.too_many_from, max_cost);
  if (found.up_to < choices.known_up_to) return;
  choices.known_up_to = found.up_to;
  choices.faults.clear();
  choices.faults.reserve(found.candidates.size());
  for (const Candidate& one : found.candidates) choices.faults.push_back({id(one.fault), one.cost});
}

bool SingleFaults::explains(Id id, ReadingId reading) {
  const std::uint64_t key = std::uint64_t{index(id)} << 32u | static_cast<std::uint32_t>(reading);
  const auto [at, is_new] = explains_.try_emplace(key);
  if (is_new) at->second = consistency_.explains_reading({&known_[index(id)].fault, 1}, reading);
  return at->second;
}

bool SingleFaults::is_unrefuted(Id id) {
  Known& known = known_[index(id)];
  if (known.refuted == Refuted::not_asked) {
    const std::span<const Fault> alone(&known.fault, 1);
    known.refuted = consistency_.is_unrefuted(alone) ? Refuted::no : Refuted::yes;
    if (known.refuted == Refuted::no)
      for (const NetId net : consistency_.touched_by(alone)) by_net_[net].push_back(index(id));
  }
  return known.refuted == Refuted::no;
}

bool SingleFaults::take_in(ReadingId reading) {
  std::vector<std::uint32_t> at_reading;
  for (const NetId net : consistency_.nets_where_faults_change(reading))
    if (const auto at = by_net_.find(net); at != by_net_.end())
      at_reading.insert(at_reading.end(), at->second.begin(), at->second.end());
  std::sort(at_reading.begin(), at_reading.end());
  at_reading.erase(std::unique(at_reading.begin(), at_reading.end()), at_reading.end());
  bool is_possible_with_all = true;
  for (const std::uint32_t id : at_reading) {
    Known& known = known_[id];
    const std::span<const Fault> alone(&known.fault, 1);
    if (known.refuted != Refuted::no || !consistency_.can_change(alone, reading)) continue;
    if (!consistency_.explains_reading(alone, reading)) known.refuted = Refuted::yes;
    if (known.refuted == Refuted::yes || consistency_.is_doubt(alone, reading)) is_possible_with_all = false;
  }
  return is_possible_with_all;
}

}  // namespace ringtrue
