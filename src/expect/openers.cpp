#include "ringtrue/expect/openers.hpp"

#include <algorithm>

namespace ringtrue {

namespace {

std::string_view part_name(PointId p, const PointTable& points) {
  return part_of_place(points.place_name(points.place(p)));
}

/// The module and, where it's dotted, its connector: `A1.X2` gives `A1.X2` and `A1`.
void add_modules(std::string_view part, std::vector<std::string>& settings) {
  settings.push_back(std::string(part) + "=unplugged");
  const std::size_t dot = part.rfind('.');
  if (dot != std::string_view::npos && dot > part.rfind('-') + 1)
    settings.push_back(std::string(part.substr(0, dot)) + "=unplugged");
}

/// A relay, lamp or device that sits in a socket or on plugs.
bool is_pluggable(std::string_view part, const Netlist& net) {
  const auto rows = net.parts_named(part);
  return std::any_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
    switch (net.parts[row].kind) {
      case PartKind::coil:
      case PartKind::lamp:
      case PartKind::supply:
      case PartKind::input:
      case PartKind::electronics:
      case PartKind::sensor:
      case PartKind::surge:
        return true;
      default:
        return false;
    }
  });
}

void add_part(const Part& part, const Netlist& net, std::vector<std::string>& settings) {
  const std::string name(part.part);
  switch (part.kind) {
    case PartKind::fuse:
      settings.push_back(name + "=out");
      return;
    case PartKind::breaker:
    case PartKind::isolator:
      settings.push_back(name + "=off");
      return;
    case PartKind::disconnect:
      settings.push_back(name + "=open");
      return;
    case PartKind::plug:
      settings.push_back(std::string(part_of_place(name)) + "=unplugged");
      return;
    default:
      if (is_pluggable(name, net)) settings.push_back(name + "=unplugged");
  }
}

}  // namespace

std::vector<std::string> settings_that_open(ElementId e, const ConductionGraph& graph,
                                            std::span<const PointId> near) {
  const Netlist& net = graph.netlist();
  const ElementOrigin origin = graph.origin(e);
  std::vector<std::string> settings;
  if (origin.from == ElementOrigin::From::part) {
    add_part(net.parts[origin.row], net, settings);
  } else if (origin.from == ElementOrigin::From::channel) {
    add_modules(part_name(graph.end_a(e), net.points), settings);
  } else if (graph.is_conductor(e) && graph.kind(e) == ElementKind::conductor) {
    for (const PointId end : {graph.end_a(e), graph.end_b(e)})
      if (std::find(near.begin(), near.end(), end) == near.end())
        settings.push_back(graph.element_name(e) + "@" + net.points.name(end) + "=lifted");
  }
  return settings;
}

std::vector<std::string> settings_that_close(ElementId contact, const ConductionGraph& graph) {
  const Part& part = graph.netlist().parts[graph.origin(contact).row];
  const std::string mover(part.actuated_by.empty() ? part.part : part.actuated_by);
  if (part.closed_in.empty()) return {mover + "=operated"};
  std::vector<std::string> settings;
  for (const int position : part.closed_in)
    settings.push_back(mover + "=position " + std::to_string(position));
  return settings;
}

}  // namespace ringtrue
