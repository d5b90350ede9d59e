#pragma once
#include <span>
#include <string>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// Settings of a condition, each of which opens the element: what a wireman can undo there (`F3=out`,
/// `K1=unplugged`, `12@X1:5.int=lifted`). Empty where nothing can be undone: a bridge, a terminal's body, a
/// contact. `near` are points whose clamps have to stay: no end is lifted there.
[[nodiscard]] std::vector<std::string> settings_that_open(ElementId e, const ConductionGraph& graph,
                                                          std::span<const PointId> near);

/// Settings of a condition, each of which closes a contact that is open at rest: `S2=operated`, or the
/// positions of its selector.
[[nodiscard]] std::vector<std::string> settings_that_close(ElementId contact, const ConductionGraph& graph);

}  // namespace ringtrue
