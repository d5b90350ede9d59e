#pragma once
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue::report {

/// What no current reading has proven, by what can be done about it.
struct Unproven {
  std::vector<ElementId> elements;  ///< on the drawing and in the shop, in order of element
  std::size_t loads = 0;            ///< how many of `elements` are loads: a beep can't prove them, ohms can
  std::size_t outside = 0;          ///< how many are on no channel's path, loads not counted
  std::size_t wiring = 0;           ///< conductors, terminals, contacts... on the drawing and in the shop
  std::size_t absent_field = 0;     ///< field devices and their cables, left out of `elements`
};

/// Goes once through all elements. Electronics that only the graph assumes are left out.
[[nodiscard]] Unproven unproven_elements(const ConductionGraph& graph, const Findings& findings);

/// By element: whether an unproven path of some channel lists it.
[[nodiscard]] std::vector<bool> listed_by_channels(const ConductionGraph& graph, const Findings& findings);

}  // namespace ringtrue::report
