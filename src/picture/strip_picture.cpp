#include "ringtrue/picture/strip_picture.hpp"

#include <algorithm>
#include <unordered_map>

#include "ringtrue/report/words.hpp"
#include "strip_layout.hpp"
#include "symbols.hpp"

namespace ringtrue {

namespace picture {

namespace {

class StripDrawing {
 public:
  explicit StripDrawing(const StripPicture& what)
      : what_(what),
        strip_(rows_of(what.strip, what.graph, Marks(what.graph, what.findings))),
        columns_(strip_columns(strip_, std::max(what.width, k_least_strip_width))),
        layout_(strip_layout(strip_, columns_, what.graph, most_of_a_row())) {
    find_bridges(&RowLayout::internal);
    find_bridges(&RowLayout::external);
  }

  [[nodiscard]] std::vector<std::string> draw();

 private:
  /// Rows, or parts of rows, from `first` to before `last` on one picture.
  struct Cut {
    std::size_t first, last;
  };
  /// An end of a bridge: where in the layout, and how far below its row's top.
  struct BridgeEnd {
    std::size_t row = 0;
    const Slot* slot = nullptr;
  };
  struct BridgeEnds {
    BridgeEnd upper, lower;
  };
  [[nodiscard]] int most_of_a_row() const;
  void find_bridges(std::vector<Slot> RowLayout::*slots);
  [[nodiscard]] std::string draw(Cut cut);
  [[nodiscard]] std::string title(Cut cut) const;
  [[nodiscard]] std::string summary() const;
  [[nodiscard]] std::string spoken(Cut cut) const;
  [[nodiscard]] std::size_t end_of_cut(std::size_t first, int y) const;
  void heading(Page& page, const std::string& title) const;
  void draw_terminal(Svg& svg, std::size_t row, int top) const;
  void draw_landing(Svg& svg, const Slot& slot, const SideColumns& columns, int top) const;
  void draw_label(Svg& svg, const Slot& slot, const SideColumns& columns, int y) const;
  void draw_bridge(Svg& svg, const Bridge& bridge, const SideColumns& columns, Cut cut) const;

  const StripPicture& what_;
  StripRows strip_;
  StripColumns columns_;
  std::vector<RowLayout> layout_;
  std::unordered_map<const Bridge*, BridgeEnds> ends_;
  std::vector<int> tops_;  ///< of the rows of the picture at hand, and where its last row ends
};

std::string StripDrawing::title(Cut cut) const {
  std::string text = "Terminal strip " + std::string(what_.strip.name);
  const std::size_t first = layout_[cut.first].row, last = layout_[cut.last - 1].row;
  if (cut.last - cut.first == layout_.size()) return readable(text);
  text += first == last ? ", terminal " + strip_.rows[first].number
                        : ", terminals " + strip_.rows[first].number + " to " + strip_.rows[last].number;
  if (layout_[cut.first].is_continued) text += ", continued";
  return readable(text);
}

/// What a page leaves below its heading, which is a line higher where it names the terminals.
int StripDrawing::most_of_a_row() const {
  if (what_.most_height == 0) return 0;
  Page heads(columns_.width);
  heading(heads, readable("Terminal strip " + std::string(what_.strip.name)));
  return std::max(1, what_.most_height - heads.y - k_heading_font - k_margin);
}

void StripDrawing::find_bridges(std::vector<Slot> RowLayout::*slots) {
  for (std::size_t row = 0; row < layout_.size(); ++row)
    for (const Slot& slot : layout_[row].*slots) {
      if (slot.bridge == nullptr) continue;
      BridgeEnds& ends = ends_[slot.bridge];
      (slot.landing != nullptr ? ends.upper : ends.lower) = {row, &slot};
    }
}

/// `12 terminals, 20 landings and bridges. Of these 2 faulty, 19 proven, 11 absent (...).`
std::string StripDrawing::summary() const {
  MarkCounts counts{};
  std::size_t landings = 0;
  const auto count = [&](const Landing& landing) {
    if (landing.element == ElementId::none) return;
    ++counts[static_cast<std::size_t>(landing.marked.mark)];
    ++landings;
  };
  for (const StripSide* side : {&strip_.internal, &strip_.external}) {
    for (const auto& row : side->landings) std::for_each(row.begin(), row.end(), count);
    for (const Bridge& bridge : side->bridges) count(bridge.landing);
  }
  for (const StripRow& row : strip_.rows) ++counts[static_cast<std::size_t>(row.marked.mark)];
  std::string text =
      std::to_string(strip_.rows.size()) + (strip_.rows.size() == 1 ? " terminal" : " terminals") + ", " +
      std::to_string(landings) + (landings == 1 ? " landing or bridge" : " landings and bridges");
  if (what_.findings == nullptr) return text + ". As drawn; no readings are shown.";
  std::string_view before = ". Of these ";
  for (const Mark mark : k_worst_first)
    if (const std::size_t number = counts[static_cast<std::size_t>(mark)];
        number != 0 && mark != Mark::none) {
      text.append(before).append(std::to_string(number)).append(" ").append(word(mark));
      if (mark == Mark::absent) text += " (of field devices, not checkable here)";
      before = ", ";
    }
  return text + ".";
}

std::string StripDrawing::spoken(Cut cut) const {
  std::string text = summary();
  for (std::size_t row = cut.first; row < cut.last; ++row) {
    if (!layout_[row].is_continued) text += ' ' + strip_.rows[layout_[row].row].said + '.';
    for (const auto* slots : {&layout_[row].internal, &layout_[row].external})
      for (const Slot& slot : *slots)
        if (slot.landing != nullptr) text += ' ' + slot.landing->said + '.';
  }
  return text;
}

void StripDrawing::heading(Page& page, const std::string& title) const {
  page.paragraph(title, k_heading_font, Weight::bold);
  page.paragraph(readable(panel_label(what_.graph.netlist().panel)) + ". " + summary(), k_font,
                 Weight::regular);
  page.rule();
  page.y += k_line;
  draw_text(page.body(), columns_.internal.begin, page.y, {"panel side (.int)", Weight::bold}, k_font, "end");
  draw_text(page.body(), columns_.external.begin, page.y, {"field side (.ext)", Weight::bold}, k_font,
            "start");
  page.y += 8;
}

/// Number and kind on the left of the symbol, the mark on its right; where the landings go on, the number
/// alone.
void StripDrawing::draw_terminal(Svg& svg, std::size_t row, int top) const {
  const RowLayout& layout = layout_[row];
  const StripRow& terminal = strip_.rows[layout.row];
  const int left = columns_.internal.edge, right = columns_.external.edge, y = top + layout.y;
  begin_group(svg, layout.is_continued ? Mark::none : terminal.marked.mark,
              layout.is_continued ? terminal.said + " (continued)" : terminal.said);
  svg.leaf("rect", {{"x", left},
                    {"y", top + 2},
                    {"width", k_body},
                    {"height", layout.height - 4},
                    {"fill", "none"},
                    {"stroke", "currentColor"},
                    {"stroke-width", terminal.marked.mark == Mark::faulty ? 3 : 1}});
  int base = y - 8 - k_line * static_cast<int>(layout.number.size() - 1);
  for (const Line& line : layout.number) {
    draw_text(svg, left + 8, base, line, k_font, "start");
    base += k_line;
  }
  if (layout.is_continued) {
    draw_text(svg, left + 8, y + 17, {"continued"}, k_font, "start");
    svg.close();
    return;
  }
  if (terminal.body != ElementId::none) {
    draw_element(svg, {left, right, y}, terminal.body, what_.graph, terminal.marked.mark);
    draw_text(svg, left + 8, y + 17, {std::string(what_.graph.element_kind_word(terminal.body))}, k_font,
              "start");
  }
  const int mark_at = right - 8 - k_body_text;
  draw_sign(svg, mark_at + 5, y - 13, terminal.marked.mark);
  if (terminal.marked.mark != Mark::none)
    draw_text(svg, mark_at + k_sign_room, y - 8, {std::string(word(terminal.marked.mark)), Weight::bold},
              k_font, "start");
  base = y + 17;
  for (const Line& line : layout.reasons) {
    draw_text(svg, mark_at, base, line, k_font, "start");
    base += k_line;
  }
  svg.close();
}

/// Texts from the terminal outwards; `y` is that of the landing's line.
void StripDrawing::draw_label(Svg& svg, const Slot& slot, const SideColumns& columns, int y) const {
  const std::string_view anchor = columns.way < 0 ? "end" : "start";
  const bool is_side_by_side = columns.far_at != 0;
  int base = y + 5;
  const auto draw = [&](const Lines& lines, int at) {
    if (is_side_by_side) base = y + 5;
    for (const Line& line : lines) {
      draw_text(svg, columns.begin + columns.way * at, base, line, k_font, anchor);
      base += k_line;
    }
  };
  draw(slot.what, 0);
  draw(slot.far, columns.far_at);
  if (slot.mark.empty()) return;
  const int top = is_side_by_side ? y - 12 : base - k_line;
  draw_sign(svg, columns.begin + columns.way * (columns.mark_at + 6), top + 12, slot.landing->marked.mark);
  draw({slot.mark.front()}, columns.mark_at + k_sign_room);
  if (slot.mark.size() == 1) return;
  if (is_side_by_side) base = y + 5 + k_line;
  for (std::size_t i = 1; i < slot.mark.size(); ++i, base += k_line)
    draw_text(svg, columns.begin + columns.way * (columns.mark_at + k_sign_room), base, slot.mark[i], k_font,
              anchor);
}

void StripDrawing::draw_landing(Svg& svg, const Slot& slot, const SideColumns& columns, int top) const {
  constexpr int k_symbol = 40;
  const Landing& landing = *slot.landing;
  const int y = top + slot.y, way = columns.way;
  const int begin = columns.begin - way * 4, middle = begin - way * k_symbol;
  const auto between = [y](int a, int b) { return Stretch{std::min(a, b), std::max(a, b), y}; };
  begin_group(svg, landing.marked.mark, landing.said);
  draw_label(svg, slot, columns, y);
  if (landing.element == ElementId::none) {
    draw_run(svg, between(begin, columns.edge), Mark::faulty);
  } else {
    draw_element(svg, between(begin, middle), landing.element, what_.graph, landing.marked.mark);
    draw_run(svg, between(middle, columns.edge), landing.marked.mark);
  }
  svg.circle(columns.edge, y, 3, "currentColor");
  svg.close();
}

/// With its label where its upper end is on this picture. What goes on beyond the picture goes to its edge.
void StripDrawing::draw_bridge(Svg& svg, const Bridge& bridge, const SideColumns& columns, Cut cut) const {
  const auto& [upper, lower] = ends_.at(&bridge);
  if (upper.row >= cut.last || lower.row < cut.first) return;
  const Mark mark = bridge.landing.marked.mark;
  const int x = columns.lane(bridge.lane);
  int from = tops_.front(), to = tops_.back();
  const auto draw_stub = [&](int y) {
    draw_run(svg, {std::min(x, columns.edge), std::max(x, columns.edge), y}, mark);
    for (const int at : {x, columns.edge}) svg.circle(at, y, 3, "currentColor");
  };
  begin_group(svg, mark, bridge.landing.said);
  if (upper.row >= cut.first) {
    from = tops_[upper.row - cut.first] + upper.slot->y;
    draw_label(svg, *upper.slot, columns, from);
    draw_stub(from);
  }
  if (lower.row < cut.last) {
    to = tops_[lower.row - cut.first] + lower.slot->y;
    draw_stub(to);
  }
  draw_upright(svg, x, from, to, mark);
  svg.close();
}

std::string StripDrawing::draw(Cut cut) {
  Page page(columns_.width);
  heading(page, title(cut));
  tops_.clear();
  for (std::size_t row = cut.first; row < cut.last; ++row) {
    tops_.push_back(page.y);
    draw_terminal(page.body(), row, page.y);
    for (const auto& [slots, columns] : {std::pair{&layout_[row].internal, &columns_.internal},
                                         std::pair{&layout_[row].external, &columns_.external}})
      for (const Slot& slot : *slots)
        if (slot.bridge == nullptr) draw_landing(page.body(), slot, *columns, page.y);
    page.y += layout_[row].height;
  }
  tops_.push_back(page.y);
  for (const Bridge& bridge : strip_.internal.bridges)
    draw_bridge(page.body(), bridge, columns_.internal, cut);
  for (const Bridge& bridge : strip_.external.bridges)
    draw_bridge(page.body(), bridge, columns_.external, cut);
  return page.framed(title(cut), spoken(cut));
}

/// One row at least, and as many as there is room for below `y`.
std::size_t StripDrawing::end_of_cut(std::size_t first, int y) const {
  std::size_t last = first;
  do y += layout_[last++].height;
  while (last < layout_.size() &&
         (what_.most_height == 0 || y + layout_[last].height + k_margin <= what_.most_height));
  return last;
}

std::vector<std::string> StripDrawing::draw() {
  std::vector<std::string> pictures;
  for (std::size_t first = 0; first < layout_.size();) {
    Page heads(columns_.width);
    heading(heads, title({first, first + 1}));
    const std::size_t last = end_of_cut(first, heads.y);
    pictures.push_back(draw({first, last}));
    first = last;
  }
  return pictures;
}

}  // namespace

}  // namespace picture

std::vector<std::string> strip_pictures(const StripPicture& what) {
  return picture::StripDrawing(what).draw();
}

}  // namespace ringtrue
