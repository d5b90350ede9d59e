#include "ringtrue/logic/outlet.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "ringtrue/io/supplies.hpp"
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
    if (part.role != Role::none) outlet.safety_loads.push_back(load);
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

/// Contacts with a role with one end on what is reached.
std::vector<ElementId> guards_around(const std::vector<bool>& reached, const ConductionGraph& graph) {
  std::vector<ElementId> guards;
  for (const ElementId contact : graph.contacts())
    if (role_of(contact, graph) != Role::none &&
        reached[index(graph.end_a(contact))] != reached[index(graph.end_b(contact))])
      guards.push_back(contact);
  return guards;
}

/// Contacts with a role between a point and what feeds it, none of them passed: of a declared potential its
/// supply, else a potential or supply.
std::vector<ElementId> between_feed_and(PointId start, bool is_potential, const ConductionGraph& graph) {
  const Netlist& netlist = graph.netlist();
  const auto has_feed = [&](const std::vector<bool>& reached) {
    const auto is_there = [&](PointId p) { return p != PointId::none && reached[index(p)]; };
    const auto is_supply = [&](const Part& part) {
      return part.kind == PartKind::supply && (is_there(part.a) || is_there(part.b));
    };
    const auto is_declared = [&](const Potential& potential) { return is_there(potential.point); };
    return std::any_of(netlist.parts.begin(), netlist.parts.end(), is_supply) ||
           (!is_potential && std::any_of(netlist.potentials.begin(), netlist.potentials.end(), is_declared));
  };
  const std::vector<bool> own = joined_to(start, graph, false);
  if (has_feed(own) || !has_feed(joined_to(start, graph, true))) return {};
  return guards_around(own, graph);
}

/// What a feed or return passes: as traced, and what lies beyond where the trace ends.
std::vector<ElementId> passed_by(const TracedPath& path, const ConductionGraph& graph) {
  std::vector<ElementId> passed = path.elements;
  const bool is_potential = path.verdict == PathVerdict::complete || path.verdict == PathVerdict::passes_open;
  const PointId start = is_potential ? path.to : path.from;
  if (start == PointId::none) return passed;
  const std::vector<ElementId> further = between_feed_and(start, is_potential, graph);
  passed.insert(passed.end(), further.begin(), further.end());
  return passed;
}

/// What a signal passes: as traced, and where that stops, contacts with a role that part its two ends.
std::vector<ElementId> passed_by_signal(const TracedPath& path, PointId field, const ConductionGraph& graph) {
  std::vector<ElementId> passed = path.elements;
  if (path.verdict == PathVerdict::complete || path.from == PointId::none || field == PointId::none)
    return passed;
  const std::vector<bool> own = joined_to(path.from, graph, false);
  if (own[index(field)] || !joined_to(path.from, graph, true)[index(field)]) return passed;
  const std::vector<ElementId> guards = guards_around(own, graph);
  passed.insert(passed.end(), guards.begin(), guards.end());
  return passed;
}

/// The potential that a path ends on; null where the drawing states none.
const Potential* potential_at(const TracedPath& path, const ConductionGraph& graph) {
  if (path.to == PointId::none) return nullptr;
  for (const Potential& potential : graph.netlist().potentials)
    if (potential.point != PointId::none && graph.net_at_rest(potential.point) == graph.net_at_rest(path.to))
      return &potential;
  return nullptr;
}

/// What the other pole must be.
std::optional<PotentialKind> counterpart(PotentialKind kind) {
  switch (kind) {
    case PotentialKind::dc_plus:
      return PotentialKind::dc_minus;
    case PotentialKind::dc_minus:
      return PotentialKind::dc_plus;
    case PotentialKind::ac_line:
      return PotentialKind::ac_neutral;
    default:
      return std::nullopt;
  }
}

}  // namespace

OutletVolts volts_of(const Outlet& outlet, const ConductionGraph& graph) {
  OutletVolts made{potential_at(outlet.trace.common, graph), potential_at(outlet.trace.return_path, graph),
                   false, std::nullopt};
  if (made.feed == nullptr || made.back == nullptr) return made;
  made.is_dc = made.feed->kind != PotentialKind::ac_line;
  const double volts = made.feed->volts_to_reference() - made.back->volts_to_reference();
  const bool are_poles = counterpart(made.feed->kind) == made.back->kind &&
                         !are_on_two_supplies(made.feed->point, made.back->point, graph);
  if (are_poles && std::isfinite(volts)) made.volts = volts;
  return made;
}

Outlet outlet_of(const ConductionGraph& graph, std::size_t channel) {
  Outlet outlet;
  outlet.trace = trace_channel(graph, channel);
  outlet.role = graph.netlist().channels[channel].role;
  const TracedPath& signal = outlet.trace.signal;
  find_loads(outlet, graph, signal.verdict == PathVerdict::complete ? signal.to : PointId::none);
  const std::array<const TracedPath*, 3> paths = {&signal, &outlet.trace.return_path, &outlet.trace.common};
  for (const TracedPath* const path : paths) {
    const std::vector<ElementId> passed =
        path == &signal ? passed_by_signal(*path, graph.netlist().channels[channel].field, graph)
                        : passed_by(*path, graph);
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
  if (is_driven && !outlet.safety_loads.empty()) return DriveVerdict::not_testable;
  if (!is_driven || outlet.role == Role::none) return drive.verdict;
  const bool is_stop = outlet.role == Role::stop || outlet.role == Role::guard;
  return is_stop ? DriveVerdict::substitute : DriveVerdict::not_testable;
}

}  // namespace ringtrue::logic
