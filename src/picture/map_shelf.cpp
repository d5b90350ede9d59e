#include "map_shelf.hpp"

#include <algorithm>

#include "page.hpp"
#include "symbols.hpp"

namespace ringtrue::picture {

namespace {

constexpr int k_cell_font = 12;
constexpr int k_cell_height = 20;
constexpr int k_cell_gap = 4;
constexpr int k_pad = 6;          ///< from a block's frame to what it holds
constexpr int k_head = 24;        ///< of the block's name
constexpr int k_cell_sign = 16;   ///< room of a cell's sign
constexpr int k_side_label = 28;  ///< `int`, `ext`
constexpr int k_most_name = 220;
constexpr int k_most_pin = 110;
constexpr int k_count_width = 148;
constexpr int k_band_gap = 6;
constexpr std::size_t k_device_columns = 6;

std::string one_line(std::string_view text, int width, int font, Weight weight) {
  auto lines = fitted(text, width, font, weight, 1);
  return lines.empty() ? std::string() : std::move(lines.front());
}

std::string said(const MapBlock& block) {
  std::string text = readable(block.name);
  bool is_first = true;
  for (const Mark mark : k_worst_first)
    if (const std::size_t count = block.counts[static_cast<std::size_t>(mark)];
        count != 0 && mark != Mark::none) {
      text += (is_first ? ": " : ", ") + std::to_string(count) + " " + std::string(word(mark));
      is_first = false;
    }
  return text;
}

/// Its frame is solid, broken or thick as its mark has it.
void draw_cell(Svg& svg, const MapCell& cell, int x, int y, int width) {
  begin_group(svg, cell.mark, cell.said);
  const auto frame = [&](int stroke, std::string_view dashes) {
    svg.leaf("rect", {{"x", x},
                      {"y", y},
                      {"width", width},
                      {"height", k_cell_height},
                      {"fill", "none"},
                      {"stroke", "currentColor"},
                      {"stroke-width", stroke},
                      {"stroke-dasharray", dashes}});
  };
  if (cell.mark == Mark::faulty) frame(3, "none");
  if (cell.mark == Mark::suspect) frame(2, "2 3");
  if (cell.mark == Mark::unproven) frame(1, "5 3");
  if (cell.mark == Mark::proven) frame(1, "none");
  if (cell.mark == Mark::absent) frame(1, "1 4");
  draw_text(svg, x + 4, y + 14, {one_line(cell.pin, k_most_pin, k_cell_font, Weight::regular)}, k_cell_font,
            "start");
  draw_sign(svg, x + width - 9, y + k_cell_height / 2, cell.mark);
  svg.close();
}

void draw_cells(Svg& svg, const MapBlock& block, const BlockSize& size, int x, int y) {
  const bool has_sides = block.has_sides();
  const int first = x + k_pad + (has_sides ? k_side_label : 0);
  y += k_head;
  for (std::size_t from = 0; from < block.columns.size(); from += size.per_band) {
    if (has_sides) {
      draw_text(svg, x + k_pad, y + 14, {"int"}, k_cell_font, "start");
      draw_text(svg, x + k_pad, y + k_cell_height + k_cell_gap + 14, {"ext"}, k_cell_font, "start");
    }
    const std::size_t to = std::min(from + size.per_band, block.columns.size());
    for (std::size_t i = from; i < to; ++i)
      for (std::size_t side = 0; side < block.columns[i].size(); ++side)
        draw_cell(svg, block.columns[i][side], first + static_cast<int>(i - from) * (size.cell + k_cell_gap),
                  y + static_cast<int>(side) * (k_cell_height + k_cell_gap), size.cell);
    y += (has_sides ? 2 : 1) * (k_cell_height + k_cell_gap) + (has_sides ? k_band_gap : 0);
  }
}

/// How many points have a mark, and where that stands in the block.
struct Count {
  Mark mark;
  std::string text;
  int x, line;
};

/// In as many lines as `most_width` asks for.
std::vector<Count> counts_of(const MapBlock& block, int most_width) {
  std::vector<Count> counts;
  int x = k_pad, line = 0;
  for (const Mark mark : k_worst_first) {
    const std::size_t count = block.counts[static_cast<std::size_t>(mark)];
    if (count == 0 || mark == Mark::none) continue;
    std::string text = std::to_string(count);
    const int width = k_cell_sign + greatest_width(text, k_cell_font, Weight::regular) + k_pad;
    if (x != k_pad && x + width > most_width) x = k_pad, ++line;
    counts.push_back({mark, std::move(text), x, line});
    x += width;
  }
  return counts;
}

void draw_counts(Svg& svg, const MapBlock& block, int width, int x, int y) {
  for (const Count& count : counts_of(block, width)) {
    const int base = y + k_head + 14 + count.line * k_line;
    draw_sign(svg, x + count.x + 6, base - 5, count.mark);
    draw_text(svg, x + count.x + k_cell_sign, base, {count.text}, k_cell_font, "start");
  }
}

}  // namespace

BlockSize size_of(const MapBlock& block, Detail detail, int most_width) {
  if (detail == Detail::counts) {
    const int width = std::min(k_count_width, most_width);
    const auto counts = counts_of(block, width);
    return {width, k_head + 22 + (counts.empty() ? 0 : counts.back().line) * k_line, 0, 0};
  }
  const bool has_sides = block.has_sides();
  int pin = 0;
  for (const auto& column : block.columns)
    pin = std::max(pin, greatest_width(column.front().pin, k_cell_font, Weight::regular));
  BlockSize size;
  size.cell = std::min(pin, k_most_pin) + 8 + k_cell_sign;
  const int beside = 2 * k_pad + (has_sides ? k_side_label : 0) - k_cell_gap;
  const auto room = static_cast<std::size_t>(std::max(1, (most_width - beside) / (size.cell + k_cell_gap)));
  size.per_band = std::min({room, block.columns.size(), has_sides ? room : k_device_columns});
  const auto bands = static_cast<int>((block.columns.size() + size.per_band - 1) / size.per_band);
  const int name = std::min(greatest_width(readable(block.name), k_font, Weight::bold), k_most_name);
  size.width = std::max(beside + static_cast<int>(size.per_band) * (size.cell + k_cell_gap),
                        2 * k_pad + k_sign_room + name);
  const int band = (has_sides ? 2 : 1) * (k_cell_height + k_cell_gap) + (has_sides ? k_band_gap : 0);
  size.height = k_head + bands * band + 2;
  return size;
}

void draw_block(Svg& svg, const MapBlock& block, const BlockSize& size, int x, int y) {
  begin_group(svg, block.worst, said(block));
  svg.leaf("rect", {{"x", x},
                    {"y", y},
                    {"width", size.width},
                    {"height", size.height},
                    {"fill", "none"},
                    {"stroke", "currentColor"},
                    {"stroke-width", block.worst == Mark::faulty ? 2 : 1}});
  draw_sign(svg, x + k_pad + 6, y + 13, block.worst);
  const int name_at = block.worst == Mark::none ? 0 : k_sign_room;
  draw_text(
      svg, x + k_pad + name_at, y + 17,
      {one_line(readable(block.name), size.width - 2 * k_pad - name_at, k_font, Weight::bold), Weight::bold},
      k_font, "start");
  if (size.cell == 0)
    draw_counts(svg, block, size.width, x, y);
  else
    draw_cells(svg, block, size, x, y);
  svg.close();
}

}  // namespace ringtrue::picture
