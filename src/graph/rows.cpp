#include "ringtrue/graph/rows.hpp"

#include <algorithm>
#include <charconv>
#include <string>
#include <tuple>

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
  for (; p != PointId::none && places > 0; --places) p = graph.beside(p)[1];
  for (; p != PointId::none && places < 0; ++places) p = graph.beside(p)[0];
  return p;
}

void find_rows(const PointTable& points, std::span<const PointId> of_part,
               std::vector<std::array<PointId, 2>>& beside) {
  struct Standing {
    Side side;
    NumberedPin pin;
    PointId point;
  };
  std::vector<Standing> row;
  for (const PointId p : of_part)
    if (const auto pin = numbered(pin_of_place(points.place_name(points.place(p)))))
      row.push_back({points.side(p), *pin, p});
  const auto key = [](const Standing& at) {
    return std::tie(at.side, at.pin.before, at.pin.after, at.pin.number, at.point);
  };
  std::sort(row.begin(), row.end(), [&](const Standing& x, const Standing& y) { return key(x) < key(y); });
  for (std::size_t i = 0; i + 1 < row.size(); ++i) {
    const Standing &one = row[i], &next = row[i + 1];
    if (one.side != next.side || one.pin.before != next.pin.before || one.pin.after != next.pin.after ||
        next.pin.number - one.pin.number != 1)
      continue;
    beside[index(one.point)][1] = next.point;
    beside[index(next.point)][0] = one.point;
  }
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
