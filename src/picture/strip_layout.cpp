// On a wide picture the texts of a landing stand side by side, from the terminal outwards: the conductor, its
// other end, its mark. On a narrow one they stand below each other.
#include "strip_layout.hpp"

#include <algorithm>

namespace ringtrue::picture {

namespace {

constexpr int k_lead = 52;         ///< from the texts to the terminal, without lanes
constexpr int k_least_text = 130;  ///< width of a side's texts
constexpr int k_wide_text = 290;   ///< from here on they stand side by side
constexpr int k_gap = 10;
constexpr std::size_t k_most_lines = 4;

Lines lines_of(std::string_view text, int width, Weight weight) {
  Lines lines;
  for (std::string& line : fitted(text, width, k_font, weight, k_most_lines))
    lines.push_back({std::move(line), weight});
  return lines;
}

void append(Lines& lines, Lines more) {
  lines.insert(lines.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

Lines reasons_of(const Marked& marked, int width) {
  Lines lines = lines_of(readable(marked.what), width, Weight::regular);
  append(lines, lines_of(readable(marked.findings), width, Weight::regular));
  return lines;
}

int height(const Lines& lines) { return static_cast<int>(lines.size()) * k_line; }

class Layout {
 public:
  Layout(const StripRows& strip, const StripColumns& columns, const ConductionGraph& graph, int most)
      : strip_(strip), columns_(columns), graph_(graph), most_(most) {}

  [[nodiscard]] std::vector<RowLayout> make();

 private:
  void add_arrivals(std::vector<RowLayout>& rows, const StripSide& side,
                    std::vector<Slot> RowLayout::*slots) const;
  void add_landings(std::vector<RowLayout>& rows, const StripSide& side, const SideColumns& columns,
                    std::vector<Slot> RowLayout::*slots) const;
  [[nodiscard]] Slot slot(const Landing& landing, const SideColumns& columns) const;
  void add_parts(RowLayout whole, std::vector<RowLayout>& parts) const;
  [[nodiscard]] std::vector<Slot> take_what_fits(std::vector<Slot>& slots, int above) const;

  const StripRows& strip_;
  const StripColumns& columns_;
  const ConductionGraph& graph_;
  int most_;
};

void Layout::add_arrivals(std::vector<RowLayout>& rows, const StripSide& side,
                          std::vector<Slot> RowLayout::*slots) const {
  for (const Bridge& bridge : side.bridges) {
    Slot slot;
    slot.bridge = &bridge;
    slot.height = 14;
    (rows[bridge.lower].*slots).push_back(std::move(slot));
  }
}

Slot Layout::slot(const Landing& landing, const SideColumns& columns) const {
  Slot slot;
  slot.landing = &landing;
  const bool is_side_by_side = columns.far_at != 0;
  const int width = landing.far.empty() && is_side_by_side ? columns.mark_at - k_gap : columns.what;
  slot.what = lines_of(landing.what, width, Weight::bold);
  slot.far = lines_of(landing.far, columns.far, Weight::regular);
  if (landing.marked.mark != Mark::none) {
    slot.mark = {{std::string(word(landing.marked.mark)), Weight::bold}};
    append(slot.mark, reasons_of(landing.marked, columns.mark));
  }
  const int text = is_side_by_side ? std::max({height(slot.what), height(slot.far), height(slot.mark)})
                                   : height(slot.what) + height(slot.far) + height(slot.mark);
  const bool is_foot = landing.element != ElementId::none &&
                       graph_.origin(landing.element).from == ElementOrigin::From::pe_rail;
  slot.height = std::max(is_foot ? 36 : 26, text + 9);
  return slot;
}

void Layout::add_landings(std::vector<RowLayout>& rows, const StripSide& side, const SideColumns& columns,
                          std::vector<Slot> RowLayout::*slots) const {
  for (const Bridge& bridge : side.bridges) {
    Slot made = slot(bridge.landing, columns);
    made.bridge = &bridge;
    (rows[bridge.upper].*slots).push_back(std::move(made));
  }
  for (std::size_t row = 0; row < rows.size(); ++row)
    for (const Landing& landing : side.landings[row]) (rows[row].*slots).push_back(slot(landing, columns));
}

/// The first of them, below `above`.
std::vector<Slot> Layout::take_what_fits(std::vector<Slot>& slots, int above) const {
  std::size_t count = 0;
  for (int y = above; count < slots.size(); ++count) {
    y += slots[count].height;
    if (most_ != 0 && count != 0 && y - k_landing_above + 4 > most_) break;
  }
  const auto end = slots.begin() + static_cast<std::ptrdiff_t>(count);
  std::vector<Slot> taken(std::make_move_iterator(slots.begin()), std::make_move_iterator(end));
  slots.erase(slots.begin(), end);
  for (Slot& slot : taken) {
    slot.y = above;
    above += slot.height;
  }
  return taken;
}

void Layout::add_parts(RowLayout whole, std::vector<RowLayout>& parts) const {
  const StripRow& terminal = strip_.rows[whole.row];
  do {
    RowLayout part{whole.row, whole.is_continued, 0, 0, {}, {}, {}, {}};
    part.number = lines_of(terminal.number, k_body_text, Weight::bold);
    part.reasons = whole.is_continued ? Lines{} : reasons_of(terminal.marked, k_body_text);
    part.y = 8 + std::max(k_line, height(part.number));
    part.height = part.y + std::max(24, 10 + height(part.reasons));
    part.internal = take_what_fits(whole.internal, part.y);
    part.external = take_what_fits(whole.external, part.y);
    for (const std::vector<Slot>* slots : {&part.internal, &part.external})
      if (!slots->empty())
        part.height = std::max(part.height, slots->back().y + slots->back().height - k_landing_above + 4);
    parts.push_back(std::move(part));
    whole.is_continued = true;
  } while (!whole.internal.empty() || !whole.external.empty());
}

std::vector<RowLayout> Layout::make() {
  std::vector<RowLayout> rows(strip_.rows.size());
  for (std::size_t row = 0; row < rows.size(); ++row) rows[row].row = row;
  add_arrivals(rows, strip_.internal, &RowLayout::internal);
  add_arrivals(rows, strip_.external, &RowLayout::external);
  add_landings(rows, strip_.internal, columns_.internal, &RowLayout::internal);
  add_landings(rows, strip_.external, columns_.external, &RowLayout::external);
  std::vector<RowLayout> parts;
  for (RowLayout& row : rows) add_parts(std::move(row), parts);
  return parts;
}

SideColumns side_columns(int edge, int way, std::size_t lanes, int text) {
  SideColumns columns;
  columns.edge = edge;
  columns.way = way;
  columns.begin = edge + way * (k_lead + 12 * static_cast<int>(lanes));
  columns.what = columns.far = text;
  columns.mark = text - k_sign_room;
  if (text < k_wide_text) return columns;
  columns.mark = std::max(text * 27 / 100 - k_gap, greatest_width("unproven", k_font, Weight::bold));
  const int names = text - columns.mark - k_sign_room - 2 * k_gap;
  columns.what = names * 58 / 100;
  columns.far = names - columns.what;
  columns.far_at = columns.what + k_gap;
  columns.mark_at = columns.far_at + columns.far + k_gap;
  return columns;
}

}  // namespace

StripColumns strip_columns(const StripRows& strip, int wanted) {
  const int lanes = 12 * static_cast<int>(strip.internal.lanes + strip.external.lanes);
  const int taken = 2 * k_margin + k_body + 2 * k_lead + lanes;
  const int text = std::max(k_least_text, (wanted - taken) / 2);
  const int left = k_margin + text + k_lead + 12 * static_cast<int>(strip.internal.lanes);
  return {taken + 2 * text, side_columns(left, -1, strip.internal.lanes, text),
          side_columns(left + k_body, 1, strip.external.lanes, text)};
}

std::vector<RowLayout> strip_layout(const StripRows& strip, const StripColumns& columns,
                                    const ConductionGraph& graph, int most) {
  return Layout(strip, columns, graph, most).make();
}

}  // namespace ringtrue::picture
