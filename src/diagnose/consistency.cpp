#include "consistency.hpp"

#include <algorithm>

namespace ringtrue {

Scope all_disagreements(const Comparison& comparison) {
  Scope scope;
  for (std::uint32_t i = 0; i < comparison.standing.size(); ++i)
    if (comparison.standing[i] == Standing::disagrees) scope.push_back(ReadingId{i});
  return scope;
}

Consistency::Consistency(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                         Threads threads)
    : graph_(graph),
      readings_(readings),
      comparison_(comparison),
      index_(std::make_shared<Index>()),
      stamp_(readings.rows.size(), 0) {
  for (const ConditionOverlay& condition : comparison.conditions.overlays)
    drawn_views_.emplace_back(graph, condition.overlay);
  index_->read_in_ohms.assign(graph.net_count(), false);
  index_->nets.reserve(2 * readings.rows.size());  // most lie on one net or two
  index_->nets_end.reserve(readings.rows.size());
  for_each_index(threads, 2, [&](std::size_t which) {
    if (which == 0) return index_probes();
    for (std::uint32_t i = 0; i < readings.rows.size(); ++i) add_reading(i);
    index_nets();
  });
}

bool Consistency::is_used(ReadingId reading) const {
  const Standing standing = comparison_.standing[index(reading)];
  const bool is_current =
      standing == Standing::agrees || standing == Standing::disagrees || standing == Standing::either;
  return is_current && probing(reading).value.kind < ValueKind::volts;
}

/// The stamps of one round of numbers must not be taken for those of the next.
void Consistency::start_trial() const {
  if (++trial_ != 0) return;
  std::fill(stamp_.begin(), stamp_.end(), std::uint16_t{0});
  trial_ = 1;
}

template <class Visit>
void Consistency::for_each_affected(std::span<const Fault> faults, std::vector<ReadingId> first,
                                    Visit&& visit) const {
  start_trial();
  const std::vector<Run> runs = affected_by(faults);
  const std::vector<ReadingId> at_faults = probing_at(faults);
  first.insert(first.end(), at_faults.begin(), at_faults.end());
  // A value in ohms may have to be solved for, so it's asked after all that could refute the faults cheaply.
  if (for_each_judged(faults, runs, first, Cost::cheap, visit))
    for_each_judged(faults, runs, first, Cost::dear, visit);
}

template <class Visit>
bool Consistency::for_each_judged(std::span<const Fault> faults, const std::vector<Run>& runs,
                                  std::span<const ReadingId> first, Cost cost, Visit&& visit) const {
  for (std::size_t i = 0; i < runs.size();) {
    const std::uint16_t condition = runs[i].condition;
    std::size_t last = i;
    while (last < runs.size() && runs[last].condition == condition) ++last;
    const auto to_judge = std::span(runs).subspan(i, last - i);
    i = last;
    if (cost == Cost::dear && !holds_ohms(to_judge)) continue;
    Overlay overlay = comparison_.conditions.overlays[condition].overlay;
    for (const Fault& fault : faults) apply(fault, graph_, overlay);
    const View view(graph_, overlay);
    nets_relabelled_ += view.touched_nets().size();
    Judge judge(view);
    const auto visit_once = [&](ReadingId reading) {
      if (is_dear(reading) != (cost == Cost::dear) || stamp_[index(reading)] == trial_) return true;
      stamp_[index(reading)] = trial_;
      return is_set_aside(faults, reading) || visit(reading, judge);
    };
    for (const ReadingId reading : first)
      if (condition_of(reading) == condition && !visit_once(reading)) return false;
    for (const Run& run : to_judge)
      for (std::uint32_t at = run.first; at < run.last; ++at)
        if (!visit_once(index_->entries[at])) return false;
  }
  return true;
}

bool Consistency::holds_ohms(std::span<const Run> runs) const {
  return std::any_of(runs.begin(), runs.end(), [this](const Run& run) {
    return std::any_of(index_->entries.begin() + run.first, index_->entries.begin() + run.last,
                       [this](ReadingId reading) { return is_dear(reading); });
  });
}

std::optional<Consistency::Doubts> Consistency::explained(std::span<const Fault> faults, const Scope& scope,
                                                          std::vector<ReadingId> doubtful) const {
  // What most sets fail at first: a reading of their own, for which, under one condition, no view is made
  // apart from that for all others.
  if (!scope.empty()) doubtful.push_back(scope.back());
  doubtful.erase(std::unique(doubtful.begin(), doubtful.end()), doubtful.end());
  if (drawn_views_.size() > 1) {
    const auto is_explained = [&](ReadingId reading) { return explains_reading(faults, reading); };
    if (!fails_at_others(faults) && !std::all_of(doubtful.begin(), doubtful.end(), is_explained))
      return std::nullopt;
    doubtful.clear();
  } else if (fails_at_others(faults)) {
    doubtful.clear();
  }
  auto explained = static_cast<std::size_t>(
      std::count_if(scope.begin(), scope.end(), [&](ReadingId r) { return is_set_aside(faults, r); }));
  bool consistent = true;
  Doubts doubts;
  for_each_affected(faults, std::move(doubtful), [&](ReadingId reading, Judge& judge) {
    if (is_outside(reading, scope)) return true;
    consistent = is_possible(reading, judge, doubts);
    if (is_disagreement(reading)) explained += consistent ? 1u : 0u;
    return consistent;
  });
  return consistent && explained == scope.size() ? std::optional(doubts) : std::nullopt;
}

bool Consistency::is_unrefuted(std::span<const Fault> faults) const {
  return one_contradicted(faults, readings_.rows.size()) == ReadingId::none;
}

ReadingId Consistency::one_contradicted(std::span<const Fault> faults, std::size_t preferred) const {
  ReadingId contradicted = ReadingId::none;
  for_each_affected(faults, [&](ReadingId reading, Judge& judge) {
    const bool is_preferred = index(reading) < preferred;
    if (contradicted != ReadingId::none && !is_preferred) return true;
    if (is_disagreement(reading) || judge.is_possible(probing(reading), meter(reading))) return true;
    contradicted = reading;
    return !is_preferred;
  });
  return contradicted;
}

std::vector<ReadingId> Consistency::contradicted(std::span<const Fault> faults) const {
  std::vector<ReadingId> contradicted;
  for_each_affected(faults, [&](ReadingId reading, Judge& judge) {
    if (!is_disagreement(reading) && !judge.is_possible(probing(reading), meter(reading)))
      contradicted.push_back(reading);
    return true;
  });
  return contradicted;
}

bool Consistency::explains_reading(std::span<const Fault> faults, ReadingId reading) const {
  if (is_set_aside(faults, reading)) return true;
  const Overlay with = overlay(faults, reading);
  return Judge(View(graph_, with)).is_possible(probing(reading), meter(reading));
}

std::vector<ReadingId> Consistency::mispredicted(std::span<const Fault> faults, const Scope& scope) const {
  std::vector<ReadingId> wrong, explained;
  for_each_affected(faults, [&](ReadingId reading, Judge& judge) {
    if (!is_outside(reading, scope))
      (judge.is_possible(probing(reading), meter(reading)) ? explained : wrong).push_back(reading);
    return true;
  });
  std::sort(explained.begin(), explained.end());
  for (const ReadingId reading : scope)
    if (!std::binary_search(explained.begin(), explained.end(), reading) && !is_set_aside(faults, reading))
      wrong.push_back(reading);
  std::sort(wrong.begin(), wrong.end());
  wrong.erase(std::unique(wrong.begin(), wrong.end()), wrong.end());
  return wrong;
}

std::vector<ReadingId> Consistency::contradicted_together(std::span<const std::vector<Fault>> sets,
                                                          std::span<const Fault> all,
                                                          const Scope& scope) const {
  constexpr std::uint32_t k_none = 0xFFFFFFFFu, k_several = 0xFFFFFFFEu;
  std::vector<std::uint32_t> changed_by(stamp_.size(), k_none);
  std::vector<ReadingId> contested;
  for (std::uint32_t set = 0; set < sets.size(); ++set)
    for (const Run& run : affected_by(sets[set]))
      for (std::uint32_t at = run.first; at < run.last; ++at) {
        const ReadingId reading = index_->entries[at];
        std::uint32_t& by = changed_by[index(reading)];
        if (by == k_none) by = set;
        if (by == set || by == k_several) continue;
        by = k_several;
        if (!is_outside(reading, scope) && !is_set_aside(all, reading)) contested.push_back(reading);
      }
  std::sort(contested.begin(), contested.end(), [this](ReadingId x, ReadingId y) {
    return std::pair(condition_of(x), x) < std::pair(condition_of(y), y);
  });
  std::vector<ReadingId> contradicted;
  for (auto first = contested.begin(); first != contested.end();) {
    const std::uint16_t condition = condition_of(*first);
    const Overlay with = overlay(all, *first);
    const View view(graph_, with);
    Judge judge(view);
    for (; first != contested.end() && condition_of(*first) == condition; ++first)
      if (!judge.is_possible(probing(*first), meter(*first))) contradicted.push_back(*first);
  }
  std::sort(contradicted.begin(), contradicted.end());
  return contradicted;
}

Consistency::Doubts Consistency::doubts(std::span<const Fault> faults, const Scope& scope) const {
  Doubts doubts;
  for_each_affected(faults, [&](ReadingId reading, Judge& judge) {
    if (!is_outside(reading, scope)) (void)is_possible(reading, judge, doubts);
    return true;
  });
  return doubts;
}

bool Consistency::is_possible(ReadingId reading, Judge& judge, Doubts& doubts) const {
  if (probing(reading).value.kind != ValueKind::beep)
    return judge.is_possible(probing(reading), meter(reading));
  const bool was_in_doubt = comparison_.standing[index(reading)] == Standing::either;
  const Verdict verdict = judge.verdict(probing(reading), meter(reading));
  if (!was_in_doubt && verdict == Verdict::either) ++doubts.left;
  // A load that is known to have few ohms is likely enough to beep.
  if (was_in_doubt && verdict == Verdict::agrees && !has_upper_limit(reading)) ++doubts.settled;
  return verdict != Verdict::disagrees;
}

bool Consistency::has_upper_limit(ReadingId reading) const {
  const auto [at, is_new] = has_upper_limit_.try_emplace(reading);
  if (is_new)
    at->second =
        expected_resistance(drawn_view(condition_of(reading)), probing(reading)).hi < k_infinite_ohms;
  return at->second;
}

bool Consistency::is_doubt(std::span<const Fault> faults, ReadingId reading) const {
  if (is_set_aside(faults, reading)) return false;
  const Overlay with = overlay(faults, reading);
  const View view(graph_, with);
  Judge judge(view);
  Doubts doubts;
  (void)is_possible(reading, judge, doubts);
  return doubts.left + doubts.settled != 0;
}

Overlay Consistency::overlay(std::span<const Fault> faults, ReadingId reading) const {
  Overlay with = comparison_.conditions.overlays[readings_.rows[index(reading)].condition].overlay;
  for (const Fault& fault : faults) apply(fault, graph_, with);
  return with;
}

}  // namespace ringtrue
