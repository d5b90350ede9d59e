#pragma once
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "setups.hpp"

namespace ringtrue {

/// The points that a fault concerns: drawn ends, found points, the far ends of what is moved or open, the
/// points joined, the points of a reading not believed. Without loose ends. Each once.
[[nodiscard]] std::vector<PointId> points_of(const Fault& fault, const ConductionGraph& graph,
                                             const Comparison& comparison);

/// Elements that a fault opens, moves, exchanges or gives another value.
[[nodiscard]] std::vector<ElementId> elements_of(const Fault& fault, const ConductionGraph& graph);

/// One point for each piece of copper that holds some of the points, where a piece is what stays joined with
/// every touched element off and under each of the setups. The point is a terminal of a strip if there is one
/// near: it's easy to probe. Sorted.
[[nodiscard]] std::vector<PointId> points_to_probe(const std::vector<PointId>& points,
                                                   const std::vector<ElementId>& touched,
                                                   const std::vector<Setup>& setups,
                                                   const ConductionGraph& graph);

}  // namespace ringtrue
