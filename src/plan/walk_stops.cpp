#include "walk_stops.hpp"

#include <algorithm>
#include <limits>
#include <tuple>

#include "ringtrue/graph/rows.hpp"

namespace ringtrue {

namespace {

/// Panel, door and field are some steps apart, or a gland, or a door's width; estimate.
constexpr double k_other_place = 3;
constexpr std::uint32_t k_no_sheet = std::numeric_limits<std::uint32_t>::max();

/// The first number in it: 12 of `12`, `=A/12.3`.
std::uint32_t sheet_number(std::string_view sheet) {
  constexpr std::string_view digits = "0123456789";
  const std::size_t begin = std::min(sheet.find_first_of(digits), sheet.size());
  const std::size_t end = std::min(sheet.find_first_not_of(digits, begin), sheet.size());
  const auto number = numbered(sheet.substr(0, end));
  return number ? number->number : k_no_sheet;
}

/// Where a part sits, and the first of its sheets. Parts go by the index of their first point.
struct PartSpot {
  PartPlace place = PartPlace::panel;
  std::uint32_t sheet = k_no_sheet;
};

std::uint32_t part_at(const ConductionGraph& graph, PointId p) {
  return index(graph.points_of_part(p).front());
}

std::vector<PartSpot> spots_of_parts(const ConductionGraph& graph) {
  std::vector<PartSpot> spots(graph.point_count());
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId e{i};
    const std::uint32_t sheet = sheet_number(graph.element_sheet(e));
    const ElementOrigin from = graph.origin(e);
    const bool is_part = from.from == ElementOrigin::From::part;
    const PartPlace place = is_part ? graph.netlist().parts[from.row].place : PartPlace::panel;
    for (const PointId p : {graph.end_a(e), graph.end_b(e)}) {
      PartSpot& spot = spots[part_at(graph, p)];
      spot.sheet = std::min(spot.sheet, sheet);
      spot.place = std::max(spot.place, place);
    }
  }
  return spots;
}

PointId clamp_of(PointId loose, const ConditionOverlay& made, const ConductionGraph& graph) {
  for (const auto& lifted : made.lifted)
    if (lifted.loose == loose)
      return lifted.end == End::a ? graph.end_a(lifted.conductor) : graph.end_b(lifted.conductor);
  return PointId::none;
}

PointId drawn_point(PointId p, const ConditionOverlay& made, const ConductionGraph& graph) {
  return index(p) < graph.point_count() ? p : clamp_of(p, made, graph);
}

struct ProbedPoint {
  PartSpot spot;
  std::uint32_t part;
  NumberedPin pin;  ///< one without a number is all letters
  Side side;
  PointId point;
};

/// Each point that some reading touches once, in the order of the walk.
std::vector<ProbedPoint> probed_points(const ConductionGraph& graph,
                                       const std::vector<PlanCondition>& conditions,
                                       std::span<const PlannedReading> readings) {
  const std::vector<PartSpot> spots = spots_of_parts(graph);
  std::vector<bool> is_known(graph.point_count());
  std::vector<ProbedPoint> probed;
  for (const PlannedReading& reading : readings)
    for (const PointId end : {reading.from, reading.to}) {
      const PointId p = drawn_point(end, conditions[reading.condition].made, graph);
      if (is_known[index(p)]) continue;
      is_known[index(p)] = true;
      const std::uint32_t part = part_at(graph, p);
      const std::string_view pin = pin_name(graph, p);
      probed.push_back({spots[part], part, numbered(pin).value_or(NumberedPin{pin, {}, 0}),
                        graph.netlist().points.side(p), p});
    }
  const auto key = [](const ProbedPoint& x) {
    return std::tie(x.spot.place, x.spot.sheet, x.part, x.pin.before, x.pin.after, x.pin.number, x.side,
                    x.point);
  };
  std::sort(probed.begin(), probed.end(), [&](const auto& x, const auto& y) { return key(x) < key(y); });
  return probed;
}

}  // namespace

WalkStops::WalkStops(const ConductionGraph& graph, const std::vector<PlanCondition>& conditions,
                     std::span<const PlannedReading> readings, const Efforts& efforts)
    : graph_(graph), efforts_(efforts), rank_of_(graph.point_count()) {
  const std::vector<ProbedPoint> probed = probed_points(graph, conditions, readings);
  const auto row = [](const ProbedPoint& x) { return std::tie(x.part, x.pin.before, x.pin.after); };
  stops_.reserve(probed.size());
  for (std::uint32_t rank = 0; rank < probed.size(); ++rank) {
    const ProbedPoint& x = probed[rank];
    Stop stop{x.point, rank, 0, 0, x.pin.number, x.spot.place, x.side, 0};
    if (rank > 0) {
      stop.part = stops_.back().part + (x.part != probed[rank - 1].part ? 1 : 0);
      stop.row = stops_.back().row + (row(x) != row(probed[rank - 1]) ? 1 : 0);
    }
    rank_of_[index(x.point)] = rank;
    stops_.push_back(stop);
  }
}

Stop WalkStops::at(PointId p, const ConditionOverlay& made) const {
  Stop stop = stops_[rank_of_[index(drawn_point(p, made, graph_))]];
  stop.point = p;
  stop.pin = effort_of_pin(p, graph_, efforts_);
  return stop;
}

double WalkStops::apart(const Stop& a, const Stop& b) const {
  if (a.point == b.point) return 0;
  if (a.place != b.place) return k_other_place * efforts_.other_part;
  if (a.part != b.part) return efforts_.other_part;
  if (a.row != b.row) return efforts_.same_part;
  const std::uint32_t places = std::max(a.number, b.number) - std::min(a.number, b.number);
  const double steps = std::max(1.0, static_cast<double>(places) + (a.side != b.side ? 1 : 0));
  return efforts_.same_part * steps / (steps + 1);
}

}  // namespace ringtrue
