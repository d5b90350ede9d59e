#pragma once
#include <string>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// In px; narrower, a block would not hold its name.
inline constexpr int k_least_map_width = 280;
/// A panel with more connection points is drawn as blocks with counts only.
inline constexpr std::size_t k_most_map_cells = 2000;

/// What `readings_maps` draws.
struct ReadingsMap {
  const ConductionGraph& graph;
  const Findings* findings = nullptr;  ///< null: nothing was read yet, and nothing is marked
  int width = 960;                     ///< px; at least `k_least_map_width`
  int most_height = 0;                 ///< px; a panel that takes more is cut into several; 0: it never is
};

/// The whole panel at a glance as SVG 1.1: a block for each device and strip, by place (panel, door, field),
/// in it a cell for each connection point, for that is where a screwdriver or a probe goes.
///
/// A cell shows by sign and frame the worst of what is known there: of the point itself, and of the
/// conductors and parts that end on it. What leads to a field device that isn't there in the shop counts at
/// the device alone, as not checkable here. Blocks with the worst marks come first within their place, then
/// by name in the order in which people count; a legend says the signs in words and how many points have
/// each. Cell and block have the class of their mark and their words in a title. Otherwise as
/// `path_picture`. One picture, or several in order where `most_height` asks for it. Cost: linear in points,
/// elements and findings, but for sorting.
[[nodiscard]] std::vector<std::string> readings_maps(const ReadingsMap& what);

}  // namespace ringtrue
