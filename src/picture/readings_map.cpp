// Blocks stand on shelves, filled from the left; a shelf is as high as its highest block.
#include "ringtrue/picture/readings_map.hpp"

#include <algorithm>

#include "map_shelf.hpp"
#include "page.hpp"
#include "ringtrue/report/words.hpp"
#include "symbols.hpp"

namespace ringtrue {

namespace picture {

namespace {

constexpr int k_block_gap = 8;

/// Blocks beside each other, of one place.
struct Shelf {
  std::size_t first = 0, last = 0;
  int height = 0;
  bool is_new_place = false;
};

class Map {
 public:
  explicit Map(const ReadingsMap& what)
      : what_(what),
        width_(std::max(what.width, k_least_map_width)),
        blocks_(map_blocks(what.graph, what.findings)),
        detail_(what.graph.point_count() > k_most_map_cells ? Detail::counts : Detail::cells) {
    for (const MapBlock& block : blocks_) {
      sizes_.push_back(size_of(block, detail_, width_ - 2 * k_margin));
      for (std::size_t i = 0; i < counts_.size(); ++i) counts_[i] += block.counts[i];
    }
  }

  [[nodiscard]] std::vector<std::string> draw();

 private:
  [[nodiscard]] std::vector<Shelf> shelves() const;
  [[nodiscard]] std::string title() const;
  [[nodiscard]] std::string spoken() const;
  void heading(Page& page) const;
  void legend(Page& page) const;
  void draw(Page& page, const Shelf& shelf, bool is_first) const;

  const ReadingsMap& what_;
  int width_;
  std::vector<MapBlock> blocks_;
  Detail detail_;
  std::vector<BlockSize> sizes_;
  MarkCounts counts_{};
};

std::string_view title_of(PartPlace place) {
  switch (place) {
    case PartPlace::panel:
      return "In the panel";
    case PartPlace::door:
      return "On the door";
    case PartPlace::field:
      return "In the field";
  }
  return {};
}

/// What a mark says of a point.
std::string_view meaning(Mark mark) {
  switch (mark) {
    case Mark::faulty:
      return "the likeliest explanation of a finding is here";
    case Mark::suspect:
      return "another explanation of a finding is here";
    case Mark::unproven:
      return "a wire or part that ends here is shown by no reading";
    case Mark::proven:
      return "readings show that what is drawn here is there, but for field devices and their cores, and not "
             "that nothing else is";
    case Mark::absent:
      return "of a field device that isn't there in the shop, not checkable here";
    case Mark::none:
      return "nothing is drawn here";
  }
  return {};
}

std::string points(std::size_t count) {
  return std::to_string(count) + (count == 1 ? " connection point" : " connection points");
}

std::string Map::title() const {
  return readable(panel_label(what_.graph.netlist().panel)) +
         (what_.findings == nullptr ? ": connection points" : ": what the readings show");
}

std::string Map::spoken() const {
  std::string text = points(what_.graph.point_count()) + ".";
  if (what_.findings == nullptr) return text + " As drawn; no readings are shown.";
  for (const Mark mark : k_worst_first)
    if (const std::size_t count = counts_[static_cast<std::size_t>(mark)]; count != 0)
      text += " " + std::to_string(count) + " " + std::string(mark == Mark::none ? "blank" : word(mark)) +
              ": " + std::string(meaning(mark)) + ".";
  for (const MapBlock& block : blocks_)
    for (const auto& column : block.columns)
      for (const MapCell& cell : column)
        if (cell.mark == Mark::faulty) text += " " + cell.said + ".";
  return text;
}

void Map::legend(Page& page) const {
  for (const Mark mark : k_worst_first) {
    const std::size_t count = counts_[static_cast<std::size_t>(mark)];
    if (count == 0) continue;
    const std::string text = std::to_string(count) + " " +
                             std::string(mark == Mark::none ? "blank" : word(mark)) + ": " +
                             std::string(meaning(mark));
    bool is_first = true;
    for (const std::string& line :
         wrapped(text, page.width() - 2 * k_margin - k_sign_room, k_font, Weight::regular)) {
      page.y += k_line;
      if (is_first) draw_sign(page.body(), k_margin + 6, page.y - 5, mark);
      draw_text(page.body(), k_margin + k_sign_room, page.y, {line}, k_font, "start");
      is_first = false;
    }
  }
}

void Map::heading(Page& page) const {
  page.paragraph(title(), k_heading_font, Weight::bold);
  page.paragraph(points(what_.graph.point_count()) + (what_.findings == nullptr
                                                          ? ". As drawn; no readings are shown."
                                                          : ". Each shows the worst of what ends on it:"),
                 k_font, Weight::regular);
  if (what_.findings != nullptr) legend(page);
}

std::vector<Shelf> Map::shelves() const {
  std::vector<Shelf> shelves;
  int used = 0;
  for (std::size_t i = 0; i < blocks_.size(); ++i) {
    const bool is_new_place = i == 0 || blocks_[i].place != blocks_[i - 1].place;
    if (is_new_place || used + sizes_[i].width > width_ - 2 * k_margin) {
      shelves.push_back({i, i, 0, is_new_place});
      used = 0;
    }
    Shelf& shelf = shelves.back();
    shelf.last = i + 1;
    shelf.height = std::max(shelf.height, sizes_[i].height);
    used += sizes_[i].width + k_block_gap;
  }
  return shelves;
}

void Map::draw(Page& page, const Shelf& shelf, bool is_first) const {
  if (shelf.is_new_place || is_first) {
    page.rule();
    page.paragraph(
        std::string(title_of(blocks_[shelf.first].place)) + (shelf.is_new_place ? "" : ", continued"),
        k_font + 2, Weight::bold);
    page.y += 8;
  }
  int x = k_margin;
  for (std::size_t i = shelf.first; i < shelf.last; ++i) {
    draw_block(page.body(), blocks_[i], sizes_[i], x, page.y);
    x += sizes_[i].width + k_block_gap;
  }
  page.y += shelf.height + k_block_gap;
}

std::vector<std::string> Map::draw() {
  constexpr int k_place_head = 46;
  const std::vector<Shelf> all = shelves();
  std::vector<std::string> pictures;
  std::size_t next = 0;
  do {
    Page page(width_);
    heading(page);
    for (bool is_first = true; next < all.size(); ++next, is_first = false) {
      const int taken = all[next].height + k_block_gap + (all[next].is_new_place ? k_place_head : 0);
      if (!is_first && what_.most_height != 0 && page.y + taken + k_margin > what_.most_height) break;
      draw(page, all[next], is_first);
    }
    const std::string number =
        pictures.empty() && next == all.size() ? "" : ", part " + std::to_string(pictures.size() + 1);
    pictures.push_back(page.framed(title() + number, spoken()));
  } while (next < all.size());
  return pictures;
}

}  // namespace

}  // namespace picture

std::vector<std::string> readings_maps(const ReadingsMap& what) { return picture::Map(what).draw(); }

}  // namespace ringtrue
