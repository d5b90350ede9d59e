#pragma once
#include "lane.hpp"
#include "symbols.hpp"

namespace ringtrue::picture {

/// The columns that all lanes of a picture stand in.
struct Columns {
  int count, cell, left;  ///< elements in a row at most, width of each, where the first point stands
  [[nodiscard]] int x(std::size_t column) const { return left + static_cast<int>(column) * cell; }
};

/// Draws a lane's points and elements below `y`, in as many rows as they need; gives where the last row ends.
[[nodiscard]] int draw_lane(Svg& svg, const Lane& lane, const Columns& columns, const ConductionGraph& graph,
                            int y);

}  // namespace ringtrue::picture
