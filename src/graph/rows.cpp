#include "ringtrue/graph/rows.hpp"

#include <algorithm>
#include <charconv>
#include <cstdint>
#include <map>
#include <string>
#include <utility>

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
  // A row's number and side in the upper half, the pin's number in the lower, which it doesn't fill: so
  // neighbours differ by one.
  using Standing = std::pair<std::uint64_t, PointId>;
  std::map<std::pair<std::string_view, std::string_view>, std::uint64_t> rows;
  std::vector<Standing> standing;
  standing.reserve(of_part.size());
  for (const PointId p : of_part) {
    const auto pin = numbered(pin_of_place(points.place_name(points.place(p))));
    if (!pin) continue;
    const std::uint64_t row = rows.try_emplace({pin->before, pin->after}, rows.size()).first->second;
    standing.emplace_back((row << 2 | static_cast<std::uint64_t>(points.side(p))) << 32 | pin->number, p);
  }
  std::sort(standing.begin(), standing.end());
  for (std::size_t i = 0; i + 1 < standing.size(); ++i) {
    const auto [at, one] = standing[i];
    const auto [next_at, next] = standing[i + 1];
    if (next_at - at != 1) continue;
    beside[index(one)][1] = next;
    beside[index(next)][0] = one;
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
