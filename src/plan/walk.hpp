#pragma once
#include <vector>

#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// Puts readings in the order in which the probes are moved with little effort: one probe parked, the other
/// along the strip. Readings of one condition stand together, conditions in the order of their numbers. From
/// and to may be exchanged, except where polarity matters.
///
/// Has to come before `proves` is filled, which goes by the first reading in the final order.
/// The same readings give the same order; those of 500,000 take about two seconds.
void put_in_walking_order(const ConductionGraph& graph, const std::vector<PlanCondition>& conditions,
                          const Efforts& efforts, std::vector<PlannedReading>& readings);

/// Counts up what the readings take in the order given.
///
/// Effort: `reading` each, `value` for one in ohms; what a moved probe takes (WalkStops::apart, and
/// `effort_of_pin` where it is put down); each condition when it is set, but for what the one before it has
/// as well. Setting one takes both hands, so after it both probes are put down anew; how far they come then
/// is not known and not counted.
[[nodiscard]] WalkFigures figures_of(const ConductionGraph& graph,
                                     const std::vector<PlanCondition>& conditions,
                                     const std::vector<PlannedReading>& readings, const Efforts& efforts);

/// The figures of reading each conductor that is there at rest from end to end, in the order of the wire
/// list.
[[nodiscard]] WalkFigures wire_by_wire(const ConductionGraph& graph, const Efforts& efforts);

}  // namespace ringtrue
