#include "strip_rows.hpp"

#include <algorithm>
#include <unordered_map>

#include "ringtrue/report/words.hpp"
#include "text_fit.hpp"

namespace ringtrue::picture {

namespace {

class RowMaker {
 public:
  RowMaker(const TerminalStrip& strip, const ConductionGraph& graph, const Marks& marks)
      : strip_(strip), graph_(graph), points_(graph.netlist().points), marks_(marks) {
    for (std::size_t row = 0; row < strip.places.size(); ++row) row_of_[strip.places[row]] = row;
  }

  [[nodiscard]] StripRow row(PlaceId place) const;
  [[nodiscard]] StripSide side(Side side) const;

 private:
  /// The terminal itself, between its sides.
  [[nodiscard]] ElementId body_of(PlaceId place) const;
  [[nodiscard]] bool is_bridge_in_strip(ElementId element) const;
  [[nodiscard]] bool is_spare(ElementId element) const;
  [[nodiscard]] Landing landing(ElementId element, PointId at) const;
  [[nodiscard]] Bridge bridge(ElementId element, PointId upper, PointId lower) const;
  void add_point(StripSide& made, std::size_t row, PointId at) const;
  [[nodiscard]] std::string said(ElementId element, std::string text, const Marked& marked) const;

  const TerminalStrip& strip_;
  const ConductionGraph& graph_;
  const PointTable& points_;
  const Marks& marks_;
  std::unordered_map<PlaceId, std::size_t> row_of_;
};

ElementId RowMaker::body_of(PlaceId place) const {
  const PointId inside = points_.point(place, Side::internal), outside = points_.other_side(inside);
  for (const ElementId element : graph_.elements_at(inside))
    if (!graph_.is_conductor(element) && graph_.other_end(element, inside) == outside) return element;
  return ElementId::none;
}

std::string RowMaker::said(ElementId element, std::string text, const Marked& marked) const {
  if (const std::string_view sheet = graph_.element_sheet(element); !sheet.empty())
    text.append(", sheet ").append(sheet);
  if (marked.mark != Mark::none) text += ", " + marked.text();
  return readable(text);
}

StripRow RowMaker::row(PlaceId place) const {
  StripRow row{body_of(place), {}, {}, {}};
  const std::string_view name = points_.place_name(place), pin = pin_of_place(name);
  row.number = readable(pin.empty() ? name : pin);
  if (row.body == ElementId::none) {
    row.said = readable(name);
    return row;
  }
  row.marked = marks_.in_the_shop(row.body);
  row.said = said(row.body, element_noun(row.body, graph_), row.marked);
  return row;
}

bool RowMaker::is_bridge_in_strip(ElementId element) const {
  if (!graph_.is_conductor(element) || graph_.kind(element) != ElementKind::link) return false;
  const PointId a = graph_.end_a(element), b = graph_.end_b(element);
  return points_.place(a) != points_.place(b) && points_.side(a) == points_.side(b) &&
         row_of_.count(points_.place(a)) != 0 && row_of_.count(points_.place(b)) != 0;
}

bool RowMaker::is_spare(ElementId element) const {
  return graph_.is_conductor(element) && graph_.netlist().conductors[graph_.origin(element).row].is_spare();
}

Landing RowMaker::landing(ElementId element, PointId at) const {
  Landing made{element, readable(element_noun(element, graph_)), {}, {}, marks_.in_the_shop(element)};
  made.far = is_spare(element) ? "spare" : readable(points_.name(graph_.other_end(element, at)));
  made.said =
      said(element, points_.name(at) + ": " + made.what + (is_spare(element) ? ", " : " to ") + made.far,
           made.marked);
  return made;
}

Bridge RowMaker::bridge(ElementId element, PointId upper, PointId lower) const {
  Bridge made{row_of_.at(points_.place(upper)), row_of_.at(points_.place(lower)), 0, {}};
  made.landing.element = element;
  made.landing.what = readable(std::string(graph_.element_kind_word(element)) + " to " + points_.name(lower));
  made.landing.marked = marks_.in_the_shop(element);
  made.landing.said =
      said(element, points_.name(upper) + ": " + element_noun(element, graph_) + " to " + points_.name(lower),
           made.landing.marked);
  return made;
}

void RowMaker::add_point(StripSide& made, std::size_t row, PointId at) const {
  const ElementId body = body_of(points_.place(at));
  for (const ElementId element : graph_.elements_at(at)) {
    if (element == body || graph_.origin(element).from == ElementOrigin::From::channel) continue;
    if (!is_bridge_in_strip(element)) {
      made.landings[row].push_back(landing(element, at));
      continue;
    }
    const PointId other = graph_.other_end(element, at);
    if (row_of_.at(points_.place(other)) > row) made.bridges.push_back(bridge(element, at, other));
  }
  if (const Marked found = marks_.of(at); found.mark != Mark::none) {
    Landing made_there{ElementId::none, readable(found.what), {}, {}, {found.mark, "", found.findings}};
    made_there.said = readable(points_.name(at) + ": " + found.text());
    made.landings[row].push_back(std::move(made_there));
  }
}

/// Each bridge takes the innermost lane that is free from its upper to its lower row; one may begin where
/// another ends.
void give_lanes(StripSide& side) {
  std::stable_sort(side.bridges.begin(), side.bridges.end(), [](const Bridge& a, const Bridge& b) {
    return a.upper != b.upper ? a.upper < b.upper : a.lower < b.lower;
  });
  std::vector<std::size_t> free_from;
  for (Bridge& bridge : side.bridges) {
    const auto lane = std::find_if(free_from.begin(), free_from.end(),
                                   [&](std::size_t row) { return row <= bridge.upper; });
    bridge.lane = static_cast<std::size_t>(lane - free_from.begin());
    if (lane == free_from.end()) free_from.push_back(0);
    free_from[bridge.lane] = bridge.lower;
  }
  side.lanes = free_from.size();
}

StripSide RowMaker::side(Side side) const {
  StripSide made;
  made.landings.resize(strip_.places.size());
  for (std::size_t row = 0; row < strip_.places.size(); ++row)
    add_point(made, row, points_.point(strip_.places[row], side));
  give_lanes(made);
  return made;
}

}  // namespace

StripRows rows_of(const TerminalStrip& strip, const ConductionGraph& graph, const Marks& marks) {
  const RowMaker maker(strip, graph, marks);
  StripRows made;
  for (const PlaceId place : strip.places) made.rows.push_back(maker.row(place));
  made.internal = maker.side(Side::internal);
  made.external = maker.side(Side::external);
  return made;
}

}  // namespace ringtrue::picture
