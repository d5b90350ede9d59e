#pragma once
#include "marks.hpp"
#include "svg.hpp"

namespace ringtrue::picture {

/// A stretch of a lane: from one point to the next at a height.
struct Stretch {
  int from, to, y;
  [[nodiscard]] int middle() const { return (from + to) / 2; }
};

/// Room that symbols take above and below the line.
inline constexpr int k_symbol_reach = 20;

/// Draws an element along its stretch, by what it is and whether it conducts at rest; the line to its symbol
/// by its mark: thick for proven, dashed for unproven, dotted for suspect, zigzag for faulty.
void draw_element(Svg& svg, Stretch along, ElementId element, const ConductionGraph& graph, Mark mark);

/// Where nothing leads on: two torn ends, with nothing between them.
void draw_gap(Svg& svg, Stretch along);

/// A line in the mark's manner, with no symbol in it; the second one from above downwards.
void draw_run(Svg& svg, Stretch along, Mark mark);
void draw_upright(Svg& svg, int x, int from, int to, Mark mark);

/// A small sign that stands before the mark's word: a tick, a ring, a question mark, a cross.
void draw_sign(Svg& svg, int x, int y, Mark mark);

}  // namespace ringtrue::picture
