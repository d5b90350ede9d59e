#include "rows.hpp"

#include <charconv>
#include <string>

namespace ringtrue {

std::optional<NumberedPin> numbered(std::string_view pin) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  std::size_t end = pin.size();
  while (end > 0 && !is_digit(pin[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && is_digit(pin[begin - 1])) --begin;
  if (begin == end || end - begin > 9) return std::nullopt;
  NumberedPin made{pin.substr(0, begin), pin.substr(end), 0};
  std::from_chars(pin.data() + begin, pin.data() + end, made.number);
  return made;
}

std::string_view part_name(const ConductionGraph& graph, PointId p) {
  const PointTable& points = graph.netlist().points;
  return part_of_place(points.place_name(points.place(p)));
}
std::string_view pin_name(const ConductionGraph& graph, PointId p) {
  const PointTable& points = graph.netlist().points;
  return pin_of_place(points.place_name(points.place(p)));
}

namespace {

/// The point of that name on the given side, if the place has such a side.
PointId point_named(const PointTable& points, const std::string& place_name, Side side) {
  const auto place = points.find_place(place_name);
  if (!place || points.has_sides(*place) != (side != Side::single)) return PointId::none;
  return points.point(*place, side);
}

}  // namespace

PointId point_beside(const ConductionGraph& graph, PointId p, int places) {
  const auto pin = numbered(pin_name(graph, p));
  if (!pin || static_cast<std::int64_t>(pin->number) + places < 0) return PointId::none;
  std::string name(part_name(graph, p));
  name.append(":").append(pin->before);
  name.append(std::to_string(static_cast<std::int64_t>(pin->number) + places)).append(pin->after);
  const PointTable& points = graph.netlist().points;
  return point_named(points, name, points.side(p));
}

std::optional<std::uint32_t> places_apart(const ConductionGraph& graph, PointId a, PointId b) {
  const auto x = numbered(pin_name(graph, a)), y = numbered(pin_name(graph, b));
  if (!x || !y || x->before != y->before || x->after != y->after) return std::nullopt;
  return x->number > y->number ? x->number - y->number : y->number - x->number;
}

PointId on_part_beside(const ConductionGraph& graph, PointId p, int numbers) {
  const PointTable& points = graph.netlist().points;
  const auto part = numbered(part_name(graph, p));
  if (!part || points.side(p) != Side::single || pin_name(graph, p).empty()) return PointId::none;
  if (static_cast<std::int64_t>(part->number) + numbers < 0) return PointId::none;
  std::string name(part->before);
  name.append(std::to_string(static_cast<std::int64_t>(part->number) + numbers)).append(part->after);
  name.append(":").append(pin_name(graph, p));
  return point_named(points, name, Side::single);
}

}  // namespace ringtrue
