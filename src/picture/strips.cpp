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
  NearestNames nearest(typed);
  for (TerminalStrip& strip : strips) {
    nearest.offer(strip.name);
    const bool is_on_it = std::any_of(strip.places.begin(), strip.places.end(), [&](PlaceId place) {
      return netlist.points.place_name(place) == wanted;
    });
    if (is_on_it || strip.name == wanted) return std::move(strip);
  }
  for (TerminalStrip& strip : strips)
    if (edit_distance(strip.name, wanted, 0) == 0) return std::move(strip);
  return fail({ErrorCode::unknown_object,
               "the drawing has no such terminal strip",
               {},
               std::string(typed),
               "the name of a strip, or of a point on one",
               nearest.take()});
}

}  // namespace ringtrue
