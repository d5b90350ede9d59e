#include "map_blocks.hpp"

#include <algorithm>
#include <tuple>
#include <unordered_map>

#include "natural_order.hpp"
#include "ringtrue/report/words.hpp"
#include "text_fit.hpp"

namespace ringtrue::picture {

namespace {

class BlockMaker {
 public:
  BlockMaker(const ConductionGraph& graph, const Findings* findings)
      : graph_(graph),
        points_(graph.netlist().points),
        is_read_(findings != nullptr),
        marks_(graph, findings) {}

  [[nodiscard]] std::vector<MapBlock> make();

 private:
  [[nodiscard]] MapCell cell(PointId point, std::string_view pin) const;
  void add(MapBlock& block, PlaceId place) const;
  void give_places(std::vector<MapBlock>& blocks) const;

  const ConductionGraph& graph_;
  const PointTable& points_;
  bool is_read_;
  Marks marks_;
  std::unordered_map<std::string_view, std::size_t> block_of_;
};

MapCell BlockMaker::cell(PointId point, std::string_view pin) const {
  MapCell cell{readable(pin.empty() ? points_.place_name(points_.place(point)) : pin), points_.name(point),
               Mark::none};
  std::string why;
  bool leads_to_the_field = false;
  const auto offer = [&](Mark mark, std::string text) {
    if (severity(mark) >= severity(cell.mark)) return;
    cell.mark = mark;
    why = std::move(text);
  };
  if (const Marked marked = marks_.of(point); marked.mark != Mark::none) offer(marked.mark, marked.text());
  for (const ElementId element : graph_.elements_at(point)) {
    if (graph_.origin(element).from == ElementOrigin::From::channel) continue;
    const Marked marked = marks_.in_the_shop(element);
    leads_to_the_field = leads_to_the_field || marked.mark == Mark::absent;
    offer(marked.mark, element_noun(element, graph_) + " " + marked.text());
  }
  if (cell.mark == Mark::none)
    cell.said += is_read_ ? ", nothing is drawn here" : "";
  else if (cell.mark == Mark::proven)
    cell.said.append(", ")
        .append(word(cell.mark))
        .append(leads_to_the_field ? "; what leads to the field is not checkable here" : "");
  else if (cell.mark == Mark::absent)
    cell.said += ", absent: not checkable here";
  else
    cell.said += ", " + why;
  cell.said = readable(cell.said);
  return cell;
}

void BlockMaker::add(MapBlock& block, PlaceId place) const {
  const std::string_view name = points_.place_name(place), pin = pin_of_place(name);
  std::vector<MapCell> column;
  if (points_.has_sides(place))
    for (const Side side : {Side::internal, Side::external})
      column.push_back(cell(points_.point(place, side), pin));
  else
    column.push_back(cell(points_.point(place, Side::single), pin));
  for (const MapCell& made : column) {
    ++block.counts[static_cast<std::size_t>(made.mark)];
    if (severity(made.mark) < severity(block.worst)) block.worst = made.mark;
  }
  block.columns.push_back(std::move(column));
}

void BlockMaker::give_places(std::vector<MapBlock>& blocks) const {
  for (const Part& part : graph_.netlist().parts) {
    auto at = block_of_.find(part.part);
    if (at == block_of_.end()) at = block_of_.find(part_of_place(part.part));
    if (at != block_of_.end()) blocks[at->second].place = part.place;
  }
}

std::vector<MapBlock> BlockMaker::make() {
  std::vector<PlaceId> places(points_.place_count());
  for (std::uint32_t i = 0; i < places.size(); ++i) places[i] = PlaceId{i};
  std::sort(places.begin(), places.end(), [this](PlaceId a, PlaceId b) {
    return comes_before(points_.place_name(a), points_.place_name(b));
  });
  std::vector<MapBlock> blocks;
  for (const PlaceId place : places) {
    const std::string_view name = part_of_place(points_.place_name(place));
    const auto [at, is_new] = block_of_.try_emplace(name, blocks.size());
    if (is_new) {
      blocks.emplace_back();
      blocks.back().name = name;
    }
    add(blocks[at->second], place);
  }
  give_places(blocks);
  std::sort(blocks.begin(), blocks.end(), [](const MapBlock& a, const MapBlock& b) {
    const auto key = [](const MapBlock& block) { return std::tuple(block.place, severity(block.worst)); };
    return key(a) != key(b) ? key(a) < key(b) : comes_before(a.name, b.name);
  });
  return blocks;
}

}  // namespace

bool MapBlock::has_sides() const {
  return std::any_of(columns.begin(), columns.end(), [](const auto& column) { return column.size() > 1; });
}

std::vector<MapBlock> map_blocks(const ConductionGraph& graph, const Findings* findings) {
  return BlockMaker(graph, findings).make();
}

}  // namespace ringtrue::picture
