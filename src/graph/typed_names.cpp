#include "ringtrue/graph/typed_names.hpp"

#include <algorithm>
#include <optional>
#include <set>
#include <vector>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

namespace {

bool same_but_case(std::string_view x, std::string_view y) {
  const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
  return std::equal(x.begin(), x.end(), y.begin(), y.end(),
                    [&](char a, char b) { return lower(a) == lower(b); });
}

/// The only place whose name differs in case alone; nothing if there are several.
std::optional<std::string_view> place_in_other_case(std::string_view wanted, const PointTable& points) {
  std::optional<std::string_view> found;
  for (std::uint32_t i = 0; i < points.place_count(); ++i) {
    const std::string_view name = points.place_name(PlaceId{i});
    if (!same_but_case(name, wanted)) continue;
    if (found) return std::nullopt;
    found = name;
  }
  return found;
}

/// None without a number: a bridge mostly has none.
/// `X1:5.INT` to `X1:5.int`.
std::string with_small_side(std::string_view typed) {
  std::string name(typed);
  for (const std::string_view side : {".int", ".ext"})
    if (name.size() > side.size() &&
        same_but_case(std::string_view(name).substr(name.size() - side.size()), side))
      name.replace(name.size() - side.size(), side.size(), side);
  return name;
}

template <class Same>
std::vector<std::uint32_t> conductors_where(const Netlist& net, Same is_it) {
  std::vector<std::uint32_t> found;
  for (std::uint32_t i = 0; i < net.conductors.size(); ++i)
    if (!net.conductors[i].is_spare() &&
        (is_it(net.conductor_text.get(ConductorText::wire, i)) || is_it(net.conductor_name(i))))
      found.push_back(i);
  return found;
}

/// In any case, if none is called so as it was typed.
std::vector<std::uint32_t> conductors_called(std::string_view wire, const Netlist& net) {
  if (wire.empty()) return {};
  auto found = conductors_where(net, [&](std::string_view name) { return name == wire; });
  if (found.empty())
    found = conductors_where(net, [&](std::string_view name) { return same_but_case(name, wire); });
  return found;
}

/// The end as a point whose side is known.
FoundPoint end_point(PointId p, const Netlist& net) { return {p, net.points.side(p)}; }

Result<FoundPoint> find_in_any_case(std::string_view as_typed, const Netlist& net) {
  const std::string typed = with_small_side(as_typed);
  auto found = find_point(typed, net);
  if (found || found.error().front().code != ErrorCode::bad_point) return found;
  std::string storage;
  const PointName name = split_point_name(typed, net.panel.designation, storage);
  const auto place = place_in_other_case(name.place, net.points);
  if (!place) return found;
  const std::string_view side = name.side == Side::internal   ? ".int"
                                : name.side == Side::external ? ".ext"
                                                              : "";
  return find_point(std::string(*place) + std::string(side), net);
}

}  // namespace

Result<TypedPoint> find_typed_point(std::string_view typed, const Netlist& net) {
  auto found = find_in_any_case(typed, net);
  if (found) return TypedPoint{*found, true};
  if (found.error().front().code != ErrorCode::bad_point) return tl::unexpected(std::move(found.error()));
  if (const auto channels = find_channels(net, typed); channels && channels->size() == 1)
    return TypedPoint{end_point(net.channels[channels->front()].point, net), false};
  if (const auto wires = conductors_called(typed, net); wires.size() == 1)
    return TypedPoint{end_point(net.conductors[wires.front()].from, net), false};
  Error error = std::move(found.error().front());
  error.expected = "a point, wire number, tag or address of the drawing";
  return fail(std::move(error));
}

Result<std::pair<FoundPoint, FoundPoint>> find_typed_wire(std::string_view typed, const Netlist& net) {
  const auto wires = conductors_called(typed, net);
  if (wires.size() == 1) {
    const Conductor& conductor = net.conductors[wires.front()];
    return std::pair(end_point(conductor.from, net), end_point(conductor.to, net));
  }
  Error error{ErrorCode::unknown_object,
              wires.empty() ? "the drawing has no such wire" : "several conductors have this number",
              {},
              std::string(typed),
              wires.empty() ? "a wire number, or two points" : "two points:",
              {}};
  for (const std::uint32_t i : wires)
    error.expected.append(" ")
        .append(net.points.name(net.conductors[i].from))
        .append(" ")
        .append(net.points.name(net.conductors[i].to))
        .append(i == wires.back() ? "" : ",");
  if (wires.empty()) {
    std::set<std::string_view> wires_drawn;
    for (std::uint32_t i = 0; i < net.conductors.size(); ++i)
      wires_drawn.insert(net.conductor_text.get(ConductorText::wire, i));
    wires_drawn.erase("");
    NearestNames nearest(typed);
    for (const std::string_view wire : wires_drawn) nearest.offer(wire);
    error.nearest = nearest.take();
  }
  return fail(std::move(error));
}

}  // namespace ringtrue
