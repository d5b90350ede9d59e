#include "ringtrue/logic/outlet.hpp"

#include <algorithm>
#include <array>

#include "ringtrue/logic/stop_circuit.hpp"

namespace ringtrue::logic {

namespace {

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

/// What hard elements join to the point, all contacts closed.
std::vector<bool> joined_to(PointId start, const ConductionGraph& graph, bool past_roles) {
  std::vector<bool> reached(graph.point_count());
  std::vector<PointId> open = {start};
  reached[index(start)] = true;
  while (!open.empty()) {
    const PointId at = open.back();
    open.pop_back();
    for (const ElementId element : graph.elements_at(at)) {
      const PointId next = graph.other_end(element, at);
      if (!graph.is_hard(element) || reached[index(next)]) continue;
      if (!past_roles && role_of(element, graph) != Role::none && graph.kind(element) == ElementKind::contact)
        continue;
      reached[index(next)] = true;
      open.push_back(next);
    }
  }
  return reached;
}

/// A declared potential may itself hang behind contacts with a role: those between it and its supply.
std::vector<ElementId> between_supply_and(PointId potential, const ConductionGraph& graph) {
  const auto has_supply = [&](const std::vector<bool>& reached) {
    const auto& parts = graph.netlist().parts;
    return std::any_of(parts.begin(), parts.end(), [&](const Part& part) {
      return part.kind == PartKind::supply && (reached[index(part.a)] || reached[index(part.b)]);
    });
  };
  const std::vector<bool> own = joined_to(potential, graph, false);
  if (has_supply(own) || !has_supply(joined_to(potential, graph, true))) return {};
  std::vector<ElementId> between;
  for (const ElementId contact : graph.contacts())
    if (role_of(contact, graph) != Role::none &&
        own[index(graph.end_a(contact))] != own[index(graph.end_b(contact))])
      between.push_back(contact);
  return between;
}

}  // namespace

Outlet outlet_of(const ConductionGraph& graph, std::size_t channel) {
  Outlet outlet;
  outlet.trace = trace_channel(graph, channel);
  outlet.role = graph.netlist().channels[channel].role;
  const TracedPath& signal = outlet.trace.signal;
  find_loads(outlet, graph, signal.verdict == PathVerdict::complete ? signal.to : PointId::none);
  const std::array<const TracedPath*, 3> paths = {&signal, &outlet.trace.return_path, &outlet.trace.common};
  for (const TracedPath* const path : paths) {
    std::vector<ElementId> passed = path->elements;
    if (path != &signal && path->to != PointId::none) {
      const std::vector<ElementId> further = between_supply_and(path->to, graph);
      passed.insert(passed.end(), further.begin(), further.end());
    }
    for (const ElementId element : passed) {
      const Role role = role_of(element, graph);
      if (role == Role::none) continue;
      outlet.guarded.push_back(element);
      if (outlet.role == Role::none) outlet.role = role;
    }
  }
  return outlet;
}

DriveVerdict verdict_of(const Drive& drive, const Outlet& outlet) {
  const bool is_driven = drive.verdict == DriveVerdict::drivable || drive.verdict == DriveVerdict::substitute;
  if (!is_driven || outlet.role == Role::none) return drive.verdict;
  const bool is_stop = outlet.role == Role::stop || outlet.role == Role::guard;
  return is_stop ? DriveVerdict::substitute : DriveVerdict::not_testable;
}

}  // namespace ringtrue::logic
