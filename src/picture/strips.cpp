#include "ringtrue/picture/strips.hpp"

#include <algorithm>
#include <unordered_map>

#include "natural_order.hpp"
#include "ringtrue/base/nearest_names.hpp"

namespace ringtrue {

std::vector<TerminalStrip> terminal_strips(const Netlist& netlist) {
  std::vector<TerminalStrip> strips;
  std::unordered_map<std::string_view, std::size_t> at;
  const PointTable& points = netlist.points;
  for (std::uint32_t i = 0; i < points.place_count(); ++i) {
    const PlaceId place{i};
    if (!points.has_sides(place)) continue;
    const std::string_view name = part_of_place(points.place_name(place));
    const auto [found, is_new] = at.try_emplace(name, strips.size());
    if (is_new) strips.push_back({name, {}});
    strips[found->second].places.push_back(place);
  }
  for (TerminalStrip& strip : strips)
    std::sort(strip.places.begin(), strip.places.end(), [&points](PlaceId a, PlaceId b) {
      return picture::comes_before(points.place_name(a), points.place_name(b));
    });
  std::sort(strips.begin(), strips.end(), [](const TerminalStrip& a, const TerminalStrip& b) {
    return picture::comes_before(a.name, b.name);
  });
  return strips;
}

Result<TerminalStrip> find_strip(std::string_view typed, const Netlist& netlist) {
  std::string storage;
  const std::string_view wanted = split_point_name(typed, netlist.panel.designation, storage).place;
  std::vector<TerminalStrip> strips = terminal_strips(netlist);
  const auto is_called = [&](const TerminalStrip& strip, const auto& is_it) {
    return is_it(strip.name) || std::any_of(strip.places.begin(), strip.places.end(), [&](PlaceId place) {
             return is_it(netlist.points.place_name(place));
           });
  };
  NearestNames nearest(typed);
  std::vector<TerminalStrip*> in_other_case;
  for (TerminalStrip& strip : strips) {
    nearest.offer(strip.name);
    if (is_called(strip, [&](std::string_view name) { return name == wanted; })) return std::move(strip);
    if (is_called(strip, [&](std::string_view name) { return edit_distance(name, wanted, 0) == 0; }))
      in_other_case.push_back(&strip);
  }
  if (in_other_case.size() == 1) return std::move(*in_other_case.front());
  return fail({ErrorCode::unknown_object,
               "the drawing has no such terminal strip",
               {},
               std::string(typed),
               "the name of a strip, or of a point on one",
               nearest.take()});
}

}  // namespace ringtrue
