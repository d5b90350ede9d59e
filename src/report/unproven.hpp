#pragma once
#include <span>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue::report {

/// What no current reading has proven, by what can be done about it.
struct Unproven {
  std::vector<ElementId> elements;  ///< on the drawing and in the shop, in order of element
  std::size_t loads = 0;            ///< how many of `elements` are loads: a beep can't prove them, ohms can
  std::vector<ElementId> outside;   ///< those of them on no channel's path, without loads
  std::size_t wiring = 0;           ///< conductors, terminals, contacts... on the drawing and in the shop
  std::size_t absent_field = 0;     ///< field devices and their cables, left out of `elements`
};

/// Goes once through all elements. Electronics that only the graph assumes are left out.
[[nodiscard]] Unproven unproven_elements(const ConductionGraph& graph, const Findings& findings);

/// Channels that wait for the same elements.
struct WaitingChannels {
  std::span<const ElementId> elements;  ///< in the findings
  std::vector<std::size_t> channels;
};

/// The unproven channels, those with the same unproven elements together, in the order of the channel list.
[[nodiscard]] std::vector<WaitingChannels> waiting_channels(const Findings& findings);

}  // namespace ringtrue::report
