#include "ringtrue/revise/retest.hpp"

#include <algorithm>
#include <tuple>

#include "renamed.hpp"
#include "resting.hpp"

namespace ringtrue {

std::string_view word(Validity validity) {
  constexpr std::string_view k_words[k_validities] = {
      "valid",         "did-not-count", "no-longer-possible", "clamp-touched", "prediction-changed",
      "proof-changed", "not-predicted"};
  return k_words[static_cast<std::size_t>(validity)];
}

namespace {

bool counts(Standing standing) { return standing < Standing::unknown_point; }

class Retesting {
 public:
  Retesting(const ConductionGraph& before_graph, const ConductionGraph& after_graph,
            const Difference& difference, const Readings& readings, const Comparison& comparison,
            const Retest& made)
      : difference_(difference),
        comparison_(comparison),
        made_(made),
        before_(before_graph, readings, comparison, difference.touched_before),
        after_(after_graph, made.renamed, made.comparison, difference.touched_after),
        is_electrically_same_(difference.is_electrically_same()) {}

  [[nodiscard]] RetestedReading judge_one(std::uint32_t reading) const {
    RetestedReading result;
    result.validity = validity(reading, result);
    if (result.validity == Validity::valid && !counts(comparison_.standing[reading]))
      result = {Validity::did_not_count, PointId::none, {}};
    return result;
  }

 private:
  [[nodiscard]] Validity validity(std::uint32_t reading, RetestedReading& result) const {
    // Stale and unstable ones are judged as well: once what made them so is undone, they may count again.
    if (comparison_.standing[reading] == Standing::unknown_point || made_.renamed.outdated.contains(reading))
      return Validity::did_not_count;
    result.proves = before_.proven_by(reading);
    if (made_.comparison.standing[reading] == Standing::unknown_point || !is_at_same_place(reading))
      return Validity::no_longer_possible;
    if (before_.probing(reading).value.kind >= ValueKind::volts)
      return is_electrically_same_ ? Validity::valid : Validity::not_predicted;
    if (rests_on_touched(reading, result)) return Validity::clamp_touched;
    if (!is_same(before_.prediction(reading), after_.prediction(reading)))
      return Validity::prediction_changed;
    return proves_the_same(reading, result.proves) ? Validity::valid : Validity::proof_changed;
  }

  /// Both probes on points of the same names, and the same ends lifted.
  [[nodiscard]] bool is_at_same_place(std::uint32_t reading) const {
    const ConditionOverlay &before = before_.condition(reading), &after = after_.condition(reading);
    if (before.lifted.size() != after.lifted.size()) return false;
    std::vector<std::pair<PointId, PointId>> loose;
    for (const ConditionOverlay::LiftedEnd& end : before.lifted) {
      const ElementId conductor = difference_.element_after[index(end.conductor)];
      const auto same = std::find_if(after.lifted.begin(), after.lifted.end(),
                                     [&](const auto& other) { return other.conductor == conductor; });
      if (conductor == ElementId::none || same == after.lifted.end()) return false;
      loose.emplace_back(end.loose, same->loose);
    }
    const auto is_same_point = [&](PointId p, PointId q) {
      if (p == PointId::none) return q == PointId::none;
      if (index(p) < difference_.point_after.size()) return difference_.point_after[index(p)] == q;
      return std::find(loose.begin(), loose.end(), std::pair(p, q)) != loose.end();
    };
    const Probing &was = before_.probing(reading), &is = after_.probing(reading);
    return is_same_point(was.from, is.from) && is_same_point(was.to, is.to);
  }

  [[nodiscard]] bool rests_on_touched(std::uint32_t reading, RetestedReading& result) const {
    if (before_.rests_on_nets(reading) || after_.rests_on_nets(reading)) {
      result.clamp = before_.touched_on_nets(reading);
      if (result.clamp != PointId::none || after_.touched_on_nets(reading) != PointId::none) return true;
    }
    if (is_same(before_.prediction(reading), before_.prediction_without_touched(reading)) &&
        is_same(after_.prediction(reading), after_.prediction_without_touched(reading)))
      return false;
    result.clamp = before_.touched_on_way(reading);
    return true;
  }

  [[nodiscard]] bool proves_the_same(std::uint32_t reading, const std::vector<ElementId>& before) const {
    std::vector<ElementId> expected;
    for (const ElementId e : before) expected.push_back(difference_.element_after[index(e)]);
    std::sort(expected.begin(), expected.end());
    if (expected != after_.proven_by(reading)) return false;
    if (!before_.rests_on_nets(reading) && !after_.rests_on_nets(reading)) return true;
    std::vector<PointId> points;
    for (const PointId p : before_.points_on_nets(reading))
      points.push_back(difference_.point_after[index(p)]);
    std::sort(points.begin(), points.end());
    return points == after_.points_on_nets(reading);
  }

  const Difference& difference_;
  const Comparison& comparison_;
  const Retest& made_;
  Resting before_, after_;
  bool is_electrically_same_;
};

/// Only what is valid counts any more.
void set_aside(Retest& made, const Comparison& before) {
  Comparison& comparison = made.comparison;
  comparison.agree = comparison.disagree = comparison.either = comparison.unknown = comparison.stale =
      comparison.unstable = 0;
  for (std::size_t i = 0; i < made.readings.size(); ++i) {
    Standing& standing = comparison.standing[i];
    standing = made.readings[i].validity == Validity::valid ? before.standing[i] : Standing::stale;
    std::size_t* const counts[] = {&comparison.agree,   &comparison.disagree, &comparison.either,
                                   &comparison.unknown, &comparison.stale,    &comparison.unstable};
    ++*counts[static_cast<std::size_t>(standing)];
  }
  comparison.unknown_points.clear();
}

}  // namespace

Result<Retest> retest(const ConductionGraph& before, const ConductionGraph& after,
                      const Difference& difference, const Readings& readings, const Comparison& comparison,
                      const Meters& meters, const MeterSettings& unnamed) {
  Retest made;
  made.renamed = renamed_readings(readings, before, after, difference, [](std::uint32_t) { return true; });
  auto judged = compare(after, made.renamed, {}, meters, unnamed);
  if (!judged) return tl::unexpected(std::move(judged.error()));
  made.comparison = std::move(*judged);
  const Retesting retesting(before, after, difference, readings, comparison, made);
  made.readings.reserve(readings.rows.size());
  for (std::uint32_t i = 0; i < readings.rows.size(); ++i) {
    made.readings.push_back(retesting.judge_one(i));
    ++made.counts[static_cast<std::size_t>(made.readings.back().validity)];
  }
  set_aside(made, comparison);
  return made;
}

}  // namespace ringtrue
