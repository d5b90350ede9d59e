#include "ringtrue/power/locate.hpp"

#include <algorithm>
#include <cmath>

#include "splits.hpp"

namespace ringtrue {

std::string_view word(SplitBy by) { return by == SplitBy::count ? "count" : "priors"; }

bool shows_plus(double volts, const InputLoop& loop) {
  return volts >= 0.75 * loop.volts && volts <= 1.5 * loop.volts;
}
bool shows_minus(double volts, const InputLoop& loop) { return std::abs(volts) <= 0.25 * loop.volts; }

std::vector<ElementId> accused_elements(const Diagnosis& diagnosis, const ConductionGraph& graph) {
  std::vector<ElementId> accused;
  for (const Fault& fault : diagnosis.faults) {
    for (const ElementId e : {fault.element, fault.element2})
      if (e != ElementId::none) accused.push_back(e);
    if (fault.kind == FaultKind::shift)
      for (const LandedEnd& end : landed_ends(fault, graph)) accused.push_back(end.conductor);
  }
  std::sort(accused.begin(), accused.end());
  accused.erase(std::unique(accused.begin(), accused.end()), accused.end());
  return accused;
}

LoopEvidence loop_evidence(const InputLoop& loop, const ConductionGraph& graph, const Findings& findings,
                           const Priors& priors) {
  LoopEvidence evidence;
  for (const LoopSegment& segment : loop.segments) {
    const bool is_element = segment.kind == SegmentKind::element;
    const bool is_proven =
        is_element && !findings.proven.empty() && findings.proven[index(segment.element)] != 0;
    evidence.is_proven.push_back(is_proven ? 1 : 0);
    evidence.weights.push_back(is_element ? prior_of_open(segment.element, graph, priors)
                                          : priors.open_element);
  }
  for (const Cluster& cluster : findings.clusters)
    for (const Diagnosis& diagnosis : cluster.diagnoses) {
      const std::vector<ElementId> accused = accused_elements(diagnosis, graph);
      for (std::size_t i = 0; i < loop.segments.size(); ++i)
        if (std::binary_search(accused.begin(), accused.end(), loop.segments[i].element))
          evidence.weights[i] = std::max(evidence.weights[i], diagnosis.probability);
    }
  return evidence;
}

namespace {

/// What the voltages leave: a break from the first segment on, before the last.
struct Narrowed {
  std::size_t first = 0, end = 0;
};

/// The break is behind every point with the voltage of plus, and before every one without.
Narrowed narrow(const InputLoop& loop, std::span<const LoopVolts> measured, Located& found) {
  Narrowed left{0, loop.segments.size()};
  for (const auto& [point, volts] : measured) {
    const std::size_t place = loop.segment_from(point);
    const bool is_plus = shows_plus(volts, loop);
    if (!is_plus && !shows_minus(volts, loop)) {
      found.unclear.push_back(point);
    } else if (place == 0) {
      (is_plus ? found.is_supply_shown : found.is_supply_missing) = true;
    } else if (is_plus) {
      left.first = std::max(left.first, place);
    } else {
      left.end = std::min(left.end, place);
    }
  }
  found.is_contradictory = left.first >= left.end || (found.is_supply_shown && found.is_supply_missing) ||
                           (found.is_supply_missing && left.first > 0);
  return left;
}

}  // namespace

Located locate(const InputLoop& loop, std::span<const LoopVolts> measured, const LoopEvidence& evidence,
               SplitBy by) {
  Located found;
  const Narrowed left = narrow(loop, measured, found);
  if (found.is_contradictory || found.is_supply_missing) return found;
  std::vector<double> weights;
  std::vector<std::uint8_t> can_split;
  for (std::size_t i = left.first; i < left.end; ++i) {
    if (evidence.is_proven[i] != 0) continue;
    const PointId before = loop.segments[i].from;
    found.suspects.push_back(i);
    weights.push_back(evidence.weights[i]);
    can_split.push_back(std::find(found.unclear.begin(), found.unclear.end(), before) == found.unclear.end());
  }
  found.is_contradictory = found.suspects.empty();
  const power::Splits by_count(weights, can_split, SplitBy::count);
  const power::Splits splits = by == SplitBy::count ? by_count : power::Splits(weights, can_split, by);
  found.left = splits.left();
  found.left_by_count = by_count.left();
  if (!found.is_supply_shown) {
    found.next = loop.plus();
    for (VoltagesLeft* const each : {&found.left, &found.left_by_count})
      *each = {each->at_most + 1, each->on_average + 1};
  } else if (const auto first = splits.first()) {
    found.next = loop.segments[found.suspects[*first]].from;
  }
  return found;
}

}  // namespace ringtrue
