#include "ringtrue/logic/outlet.hpp"

#include <array>

namespace ringtrue::logic {

namespace {

Role role_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  if (origin.from == ElementOrigin::From::conductor) return graph.netlist().conductors[origin.row].role;
  if (origin.from == ElementOrigin::From::part) return graph.netlist().parts[origin.row].role;
  return Role::none;
}

bool is_contact(PartKind kind) { return kind == PartKind::contact_no || kind == PartKind::contact_nc; }

/// Loads other than the channel's own electronics.
void find_loads(Outlet& outlet, const ConductionGraph& graph, PointId field) {
  if (field == PointId::none) return;
  const Netlist& netlist = graph.netlist();
  for (const ElementId load : graph.loads_of_net(graph.net_at_rest(field))) {
    const ElementOrigin origin = graph.origin(load);
    if (origin.from != ElementOrigin::From::part || !graph.is_on_at_rest(load)) continue;
    const Part& part = netlist.parts[origin.row];
    if (part.kind == PartKind::diode || part.kind == PartKind::surge) continue;
    outlet.loads.push_back(load);
    if (part.kind != PartKind::coil) continue;
    for (std::uint32_t row = 0; row < netlist.parts.size(); ++row)
      if (is_contact(netlist.parts[row].kind) && netlist.parts[row].actuated_by == part.part)
        outlet.contacts.push_back(graph.element_of_part(row));
  }
}

std::vector<PointId> panel_ends(PointId pin, const ConductionGraph& graph) {
  std::vector<PointId> ends;
  for (const ElementId element : graph.elements_at(pin))
    if (graph.is_conductor(element)) ends.push_back(graph.other_end(element, pin));
  return ends;
}

}  // namespace

Outlet outlet_of(const ConductionGraph& graph, std::size_t channel) {
  Outlet outlet;
  outlet.trace = trace_channel(graph, channel);
  outlet.role = graph.netlist().channels[channel].role;
  const TracedPath& signal = outlet.trace.signal;
  find_loads(outlet, graph, signal.verdict == PathVerdict::complete ? signal.to : PointId::none);
  const std::array<const TracedPath*, 3> paths = {&signal, &outlet.trace.return_path, &outlet.trace.common};
  for (const TracedPath* const path : paths)
    for (const ElementId element : path->elements) {
      const Role role = role_of(element, graph);
      if (role == Role::none) continue;
      outlet.guarded.push_back(element);
      if (outlet.role == Role::none) outlet.role = role;
    }
  return outlet;
}

std::vector<MissingContact> missing_contacts(const ConductionGraph& graph) {
  std::vector<MissingContact> missing;
  const Netlist& netlist = graph.netlist();
  for (std::uint32_t row = 0; row < netlist.parts.size(); ++row) {
    const Part& part = netlist.parts[row];
    const bool is_stop = part.role == Role::stop || part.role == Role::guard;
    if (!is_stop || part.place != PartPlace::field || !is_contact(part.kind)) continue;
    missing.push_back({graph.element_of_part(row), panel_ends(part.a, graph), panel_ends(part.b, graph)});
  }
  return missing;
}

DriveVerdict verdict_of(const Drive& drive, const Outlet& outlet) {
  const bool is_driven = drive.verdict == DriveVerdict::drivable || drive.verdict == DriveVerdict::substitute;
  if (!is_driven || outlet.role == Role::none) return drive.verdict;
  const bool is_stop = outlet.role == Role::stop || outlet.role == Role::guard;
  return is_stop ? DriveVerdict::substitute : DriveVerdict::not_testable;
}

}  // namespace ringtrue::logic
