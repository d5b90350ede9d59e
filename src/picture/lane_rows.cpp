// A lane is cut into rows of equal cells. A row is as high as its longest labels ask for: those of points
// stand above the line, those of elements below it.
#include "lane_rows.hpp"

#include <algorithm>

namespace ringtrue::picture {

namespace {

constexpr int k_mark_gap = 5;  ///< between names and the frame of a mark

int height(const Lines& lines) { return static_cast<int>(lines.size()) * k_line; }

int height(const Label& label) {
  return height(label.lines) + (label.mark == Mark::none ? 0 : height(label.mark_lines) + 2 * k_mark_gap);
}

class LaneRows {
 public:
  LaneRows(Svg& svg, const Columns& columns, const ConductionGraph& graph)
      : svg_(svg), columns_(columns), graph_(graph) {}

  [[nodiscard]] int draw_row(const Lane& lane, std::size_t first, std::size_t last, int y);

 private:
  void draw_step(const Lane::Step& step, Stretch along);
  void draw_stop(const Lane::Stop& stop, int x, int y);
  void draw_mark(const Label& label, int x, int y);
  void draw_arrow(int x, int y, int side);
  void centred(const Lines& lines, int x, int y);

  Svg& svg_;
  const Columns& columns_;
  const ConductionGraph& graph_;
};

/// `y` is the base of the first line.
void LaneRows::centred(const Lines& lines, int x, int y) {
  for (const Line& line : lines) {
    draw_text(svg_, x, y, line, k_font, "middle");
    y += k_line;
  }
}

/// The word of the mark behind its sign, and the reasons below; in a frame if there are any.
void LaneRows::draw_mark(const Label& label, int x, int y) {
  if (label.mark == Mark::none) return;
  const auto half = [](const Line& line) { return greatest_width(line.text, k_font, line.weight) / 2; };
  draw_sign(svg_, x - half(label.mark_lines.front()), y - 5, label.mark);
  centred({label.mark_lines.front()}, x + k_sign_room / 2, y);
  centred({label.mark_lines.begin() + 1, label.mark_lines.end()}, x, y + k_line);
  if (label.mark_lines.size() == 1) return;
  int widest = half(label.mark_lines.front()) + k_sign_room;
  for (const Line& line : label.mark_lines) widest = std::max(widest, half(line));
  svg_.leaf("rect", {{"x", x - widest - 4},
                     {"y", y - k_line + 2},
                     {"width", 2 * widest + 8},
                     {"height", static_cast<int>(label.mark_lines.size()) * k_line + 4},
                     {"fill", "none"},
                     {"stroke", "currentColor"},
                     {"stroke-width", label.mark == Mark::faulty ? 2 : 1}});
}

void LaneRows::draw_stop(const Lane::Stop& stop, int x, int y) {
  begin_group(svg_, stop.label.mark, stop.label.said);
  if (stop.point == PointId::none)
    svg_.leaf("circle", {{"cx", x}, {"cy", y}, {"r", 4}, {"fill", "none"}, {"stroke", "currentColor"}});
  else
    svg_.circle(x, y, 4, "currentColor");
  if (stop.label.mark == Mark::faulty)
    svg_.leaf(
        "circle",
        {{"cx", x}, {"cy", y}, {"r", 9}, {"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  const int base = y - k_symbol_reach - 4, names = height(stop.label.lines);
  centred(stop.label.lines, x, base + k_line - names);
  draw_mark(stop.label, x, base - names + k_line - height(stop.label.mark_lines) - k_mark_gap);
  svg_.close();
}

void LaneRows::draw_step(const Lane::Step& step, Stretch along) {
  begin_group(svg_, step.label.mark, step.label.said);
  if (step.element == ElementId::none)
    draw_gap(svg_, along);
  else
    draw_element(svg_, along, step.element, graph_, step.label.mark);
  const int base = along.y + k_symbol_reach + k_font + 2;
  centred(step.label.lines, along.middle(), base);
  draw_mark(step.label, along.middle(), base + height(step.label.lines) + k_mark_gap);
  svg_.close();
}

/// Beyond the last point of a row (`side` 1), or before the first of the next, which is the same point (-1).
void LaneRows::draw_arrow(int x, int y, int side) {
  const int reach = columns_.cell / 2 - 4;
  const int tail = side == 1 ? x + 5 : x - reach, head = side == 1 ? x + reach : x - 8;
  svg_.path(path_data("M", tail, y, "H", head, "m", -7, -6, "l", 7, 6, "l", -7, 6),
            {{"fill", "none"}, {"stroke", "currentColor"}, {"stroke-width", 2}});
  centred({{side == 1 ? "goes on" : "from"}, {side == 1 ? "below" : "above"}}, (tail + head) / 2,
          y + k_symbol_reach + k_font + 2);
}

/// The steps from `first` to before `last`, with the points around them.
int LaneRows::draw_row(const Lane& lane, std::size_t first, std::size_t last, int y) {
  int above = k_line, below = 2 * k_line;
  for (std::size_t i = first; i <= last; ++i) above = std::max(above, height(lane.stops[i].label));
  for (std::size_t i = first; i < last; ++i) below = std::max(below, height(lane.steps[i].label));
  const int axis = y + above + k_symbol_reach + 10;
  for (std::size_t i = first; i <= last; ++i) {
    const int x = columns_.x(i - first);
    draw_stop(lane.stops[i], x, axis);
    if (i < last) draw_step(lane.steps[i], {x, columns_.x(i - first + 1), axis});
  }
  if (first != 0) draw_arrow(columns_.x(0), axis, -1);
  if (last != lane.steps.size()) draw_arrow(columns_.x(last - first), axis, 1);
  return axis + k_symbol_reach + 6 + below;
}

}  // namespace

int draw_lane(Svg& svg, const Lane& lane, const Columns& columns, const ConductionGraph& graph, int y) {
  LaneRows rows(svg, columns, graph);
  const auto per_row = static_cast<std::size_t>(columns.count);
  std::size_t first = 0;
  do {
    const std::size_t last = std::min(first + per_row, lane.steps.size());
    y = rows.draw_row(lane, first, last, y);
    first = last;
  } while (first < lane.steps.size());
  return y;
}

}  // namespace ringtrue::picture
