#include "prediction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace ringtrue {

std::span<const ReadingId> ReadingsByNet::of(NetId net) const {
  std::call_once(is_made_, [this] { make(); });
  return {readings_.data() + start_[index(net)], readings_.data() + start_[index(net) + 1]};
}

void ReadingsByNet::make() const {
  const auto for_each = [this](auto&& visit) {
    for (std::uint32_t i = 0; i < comparison_.probings.size(); ++i) {
      const Probing& probing = comparison_.probings[i];
      if (comparison_.standing[i] > Standing::either || index(probing.from) >= graph_.point_count()) continue;
      visit(index(graph_.net_at_rest(probing.from)), ReadingId{i});
    }
  };
  start_.assign(graph_.net_count() + 1, 0);
  for_each([this](std::uint32_t net, ReadingId) { ++start_[net + 1]; });
  std::partial_sum(start_.begin(), start_.end(), start_.begin());
  readings_.resize(start_.back());
  std::vector<std::uint32_t> next(start_.begin(), start_.end() - 1);
  for_each([&](std::uint32_t net, ReadingId reading) { readings_[next[net]++] = reading; });
}

/// The panel with a diagnosis under a setup.
struct Prediction::Stand {
  Stand(const ConductionGraph& graph, Overlay made)
      : overlay(std::move(made)), view(graph, overlay), judge(view) {}
  Overlay overlay;
  View view;
  Judge judge;
  bool knows_decided = false;
  std::unordered_map<std::uint64_t, Outcomes> decided;   ///< by pair of nets: what was read between them
  std::unordered_map<std::uint64_t, ReadingId> in_ohms;  ///< by pair of points: a value read there
};

Prediction::Prediction(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                       std::span<const Diagnosis> diagnoses, std::vector<std::vector<Fault>> besides,
                       const Cluster& cluster, const ReadingsByNet& taken)
    : graph_(graph),
      readings_(readings),
      comparison_(comparison),
      diagnoses_(diagnoses),
      besides_(std::move(besides)),
      cluster_(cluster),
      taken_(taken),
      meter_(comparison.meters.of(cluster.readings.front())) {}

Prediction::~Prediction() = default;

void Prediction::look_near(std::span<const PointId> points) {
  for (const PointId p : points) near_.push_back(graph_.net_at_rest(p));
  std::sort(near_.begin(), near_.end());
  near_.erase(std::unique(near_.begin(), near_.end()), near_.end());
}

std::span<const std::unique_ptr<Prediction::Stand>> Prediction::stands(std::uint32_t setup) {
  if (stands_.size() < setups.size()) stands_.resize(setups.size());
  std::vector<std::unique_ptr<Stand>>& made = stands_[setup];
  for (std::size_t d = made.size(); d < diagnoses_.size(); ++d) {
    Overlay overlay = setups[setup].made.overlay;
    for (const Fault& fault : diagnoses_[d].faults) apply(fault, graph_, overlay);
    for (const Fault& fault : besides_[d]) apply(fault, graph_, overlay);
    made.push_back(std::make_unique<Stand>(graph_, std::move(overlay)));
  }
  return made;
}

Prediction::NetRow Prediction::nets(std::uint32_t setup, PointId p) {
  const auto [at, is_new] = row_at_.try_emplace({setup, p});
  if (!is_new) return at->second;
  std::vector<NetId> nets;
  for (const std::unique_ptr<Stand>& with : stands(setup)) nets.push_back(with->view.net(p));
  const auto number = static_cast<std::uint32_t>(rows_.size());
  const auto row = rows_.try_emplace(std::move(nets), number).first;
  return at->second = {row->second, row->first};
}

const View& Prediction::view(std::uint32_t setup, std::size_t diagnosis) {
  return stands(setup)[diagnosis]->view;
}

Probing Prediction::probing(const CandidateReading& candidate) const {
  Probing probing{candidate.from, candidate.to};
  if (candidate.again != ReadingId::none) probing = comparison_.probings[index(candidate.again)];
  probing.value.kind = candidate.in_ohms ? ValueKind::ohms : ValueKind::beep;
  return probing;
}

bool Prediction::believes(std::size_t diagnosis, ReadingId reading) const {
  if (comparison_.standing[index(reading)] == Standing::disagrees &&
      !std::binary_search(cluster_.readings.begin(), cluster_.readings.end(), reading))
    return false;
  return !is_set_aside(diagnoses_[diagnosis].faults, reading);
}

std::uint64_t Prediction::pair(std::uint32_t red, std::uint32_t black) const {
  // Over a diode it matters which lead is where.
  if (!graph_.has_diodes() && black < red) std::swap(red, black);
  return std::uint64_t{red} << 32 | black;
}

std::vector<Outcomes> Prediction::by_buzzer(const CandidateReading& candidate) {
  std::vector<Outcomes> outcomes;
  outcomes.reserve(diagnoses_.size());
  const Probing asked = probing(candidate);
  constexpr std::size_t k_most_solved = 12;
  const bool is_to_be_solved = diagnoses_.size() <= k_most_solved;
  const auto stands = this->stands(candidate.setup);
  for (std::size_t d = 0; d < diagnoses_.size(); ++d) {
    Stand& with = *stands[d];
    const Verdict verdict = is_to_be_solved ? with.judge.verdict(asked, meter_)
                                            : with.judge.verdict_without_solving(asked, meter_);
    if (verdict == Verdict::either)
      outcomes.push_back(decided(with, candidate.setup, d, candidate).value_or(k_beep | k_silent));
    else
      outcomes.push_back(verdict == Verdict::agrees ? k_beep : k_silent);
  }
  return outcomes;
}

/// What is left to a load was decided if a reading that the diagnosis believes lies between the same nets.
std::optional<Outcomes> Prediction::decided(Stand& with, std::uint32_t setup, std::size_t diagnosis,
                                            const CandidateReading& candidate) {
  if (candidate.again != ReadingId::none && believes(diagnosis, candidate.again))
    return buzzer_of(comparison_.probings[index(candidate.again)]);
  find_decided(with, setup, diagnosis);
  const auto at = with.decided.find(net_pair(with.view, candidate.from, candidate.to));
  if (at == with.decided.end()) return std::nullopt;
  return at->second;
}

std::uint64_t Prediction::net_pair(const View& view, PointId red, PointId black) const {
  return pair(index(view.net(red)), index(view.net(black)));
}

/// What a buzzer does where this was read; nothing if that does not say.
std::optional<Outcomes> Prediction::buzzer_of(const Probing& taken) const {
  if (taken.value.kind == ValueKind::beep) return k_beep;
  if (taken.value.kind == ValueKind::open) return k_silent;
  if (taken.value.kind != ValueKind::ohms) return std::nullopt;
  const OhmInterval circuit = circuit_ohms(taken.value.number, meter_);
  if (circuit.hi <= beep_limit(meter_)) return k_beep;
  if (circuit.lo > beep_limit(meter_)) return k_silent;
  return std::nullopt;
}

void Prediction::find_decided(Stand& with, std::uint32_t setup, std::size_t diagnosis) {
  if (with.knows_decided) return;
  with.knows_decided = true;
  if (!setups[setup].of_readings) return;
  for (const NetId net : near_)
    for (const ReadingId reading : taken_.of(net)) {
      const Probing& probing = comparison_.probings[index(reading)];
      if (readings_.rows[index(reading)].condition != *setups[setup].of_readings) continue;
      if (probing.from_either_side || probing.to_either_side || !believes(diagnosis, reading)) continue;
      if (const auto outcome = buzzer_of(probing))
        with.decided.emplace(net_pair(with.view, probing.from, probing.to), *outcome);
      if (probing.value.kind == ValueKind::ohms)
        with.in_ohms.emplace(pair(index(probing.from), index(probing.to)), reading);
    }
}

/// The value that was read at the same points, if the diagnosis believes it: it will be read again.
ReadingId Prediction::seen_in_ohms(const CandidateReading& candidate, std::size_t diagnosis) {
  if (candidate.again != ReadingId::none)
    return believes(diagnosis, candidate.again) ? candidate.again : ReadingId::none;
  Stand& with = *stands(candidate.setup)[diagnosis];
  find_decided(with, candidate.setup, diagnosis);
  const auto at = with.in_ohms.find(pair(index(candidate.from), index(candidate.to)));
  return at == with.in_ohms.end() ? ReadingId::none : at->second;
}

Prediction::InOhms Prediction::in_ohms(const CandidateReading& candidate) {
  const Probing asked = probing(candidate);
  std::vector<OhmInterval> shown;
  for (std::size_t d = 0; d < diagnoses_.size(); ++d) {
    const ReadingId seen = seen_in_ohms(candidate, d);
    const OhmInterval circuit = seen != ReadingId::none
                                    ? circuit_ohms(comparison_.probings[index(seen)].value.number, meter_)
                                    : expected_resistance(view(candidate.setup, d), asked);
    shown.push_back(shown_ohms(circuit, meter_));
  }
  InOhms made{{}, ranges_between(shown)};
  for (const OhmInterval& one : shown) {
    Outcomes outcomes = 0;
    for (std::size_t i = 0; i < made.ranges.size(); ++i)
      if (one.lo <= made.ranges[i].hi && made.ranges[i].lo <= one.hi)
        outcomes = static_cast<Outcomes>(outcomes | 1u << i);
    made.outcomes.push_back(outcomes);
  }
  return made;
}

std::vector<OhmInterval> ranges_between(std::vector<OhmInterval> shown) {
  constexpr std::size_t k_most_ranges = std::numeric_limits<Outcomes>::digits;
  std::sort(shown.begin(), shown.end(),
            [](const OhmInterval& x, const OhmInterval& y) { return x.lo < y.lo; });
  // A cut is needed at the beginning of an interval if some other has ended since the last cut.
  std::vector<Ohms> cuts = {Ohms{0}};
  for (const OhmInterval& one : shown) {
    const auto is_parted = [&](const OhmInterval& other) {
      return other.hi < one.lo && cuts.back() <= other.hi;
    };
    if (cuts.size() < k_most_ranges && std::any_of(shown.begin(), shown.end(), is_parted))
      cuts.push_back(one.lo);
  }
  std::vector<OhmInterval> ranges;
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const Ohms from = cuts[i];
    const Ohms to = i + 1 < cuts.size() ? Ohms{std::nextafter(cuts[i + 1].value, 0.0)} : k_infinite_ohms;
    OhmInterval& range = ranges.emplace_back(OhmInterval{to, from});
    for (const OhmInterval& one : shown) {
      if (one.hi < from || to < one.lo) continue;
      range.lo = std::min(range.lo, std::max(one.lo, from));
      range.hi = std::max(range.hi, std::min(one.hi, to));
    }
  }
  return ranges;
}

}  // namespace ringtrue
