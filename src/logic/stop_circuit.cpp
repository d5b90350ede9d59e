#include "ringtrue/logic/stop_circuit.hpp"

#include <algorithm>
#include <deque>
#include <unordered_map>

namespace ringtrue::logic {

namespace {

bool is_contact(PartKind kind) { return kind == PartKind::contact_no || kind == PartKind::contact_nc; }
bool is_stop(Role role) { return role == Role::stop || role == Role::guard; }

const Part* part_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  return origin.from == ElementOrigin::From::part ? &graph.netlist().parts[origin.row] : nullptr;
}

Role role_of_part(std::string_view name, const Netlist& netlist) {
  for (const std::uint32_t row : netlist.parts_named(name))
    if (netlist.parts[row].role != Role::none) return netlist.parts[row].role;
  return Role::none;
}

bool has_coil(std::string_view name, const Netlist& netlist) {
  const auto rows = netlist.parts_named(name);
  return std::any_of(rows.begin(), rows.end(),
                     [&](std::uint32_t row) { return netlist.parts[row].kind == PartKind::coil; });
}

std::vector<PointId> panel_ends(PointId pin, const ConductionGraph& graph) {
  std::vector<PointId> ends;
  for (const ElementId element : graph.elements_at(pin))
    if (graph.is_conductor(element)) ends.push_back(graph.other_end(element, pin));
  return ends;
}

MissingContact missing_contact(ElementId contact, const ConductionGraph& graph) {
  return {contact, panel_ends(graph.end_a(contact), graph), panel_ends(graph.end_b(contact), graph)};
}

bool is_missing(ElementId element, const ConductionGraph& graph) {
  const Part* const part = part_of(element, graph);
  return part != nullptr && is_contact(part->kind) && part->place == PartPlace::field && is_stop(part->role);
}

/// The way with the fewest elements outside the part itself.
StopLoop loop_between(PointId from, PointId to, std::string_view relay, const ConductionGraph& graph) {
  std::unordered_map<PointId, ElementId> by;
  std::deque<PointId> open = {from};
  by.emplace(from, ElementId::none);
  while (!open.empty() && !by.contains(to)) {
    const PointId at = open.front();
    open.pop_front();
    for (const ElementId element : graph.elements_at(at)) {
      const Part* const part = part_of(element, graph);
      if (!graph.is_hard(element) || (part != nullptr && part->part == relay)) continue;
      const PointId next = graph.other_end(element, at);
      if (by.emplace(next, element).second) open.push_back(next);
    }
  }
  StopLoop loop;
  if (!by.contains(to) || from == to) return loop;
  loop.from = from, loop.to = to, loop.points = {to};
  for (PointId at = to; at != from;) {
    const ElementId element = by.at(at);
    at = graph.other_end(element, at);
    loop.elements.push_back(element);
    loop.points.push_back(at);
    if (const Part* const part = part_of(element, graph); part != nullptr && is_contact(part->kind))
      loop.contacts.push_back(element);
  }
  std::reverse(loop.points.begin(), loop.points.end());
  std::reverse(loop.elements.begin(), loop.elements.end());
  std::reverse(loop.contacts.begin(), loop.contacts.end());
  return loop;
}

class CircuitFinder {
 public:
  CircuitFinder(const ConductionGraph& graph, const Fittings& fittings)
      : graph_(graph), netlist_(graph.netlist()), fittings_(fittings) {}

  [[nodiscard]] StopCircuit find(std::string_view relay) const {
    StopCircuit circuit;
    circuit.relay = relay;
    circuit.role = role_of_part(relay, netlist_);
    for (const std::uint32_t row : netlist_.parts_named(relay)) {
      const Part& part = netlist_.parts[row];
      if (part.kind == PartKind::electronics) add_loop(circuit, loop_between(part.a, part.b, relay, graph_));
      if (is_contact(part.kind)) add_outputs(circuit, row);
    }
    for (const StopLoop& loop : circuit.channels)
      for (const ElementId contact : loop.contacts)
        if (is_missing(contact, graph_)) circuit.missing.push_back(missing_contact(contact, graph_));
    add_shown(circuit);
    add_steps(circuit);
    return circuit;
  }

 private:
  void add_loop(StopCircuit& circuit, StopLoop loop) const {
    if (loop.contacts.empty()) return;
    const bool is_pressed = std::any_of(loop.contacts.begin(), loop.contacts.end(), [&](ElementId contact) {
      const Part& part = *part_of(contact, graph_);
      return part.kind == PartKind::contact_no && !has_coil(part.actuated_by, netlist_);
    });
    (is_pressed ? circuit.resets : circuit.channels).push_back(std::move(loop));
  }

  void add_outputs(StopCircuit& circuit, std::uint32_t row) const {
    const ElementId contact = graph_.element_of_part(row);
    for (const PointId pin : {graph_.end_a(contact), graph_.end_b(contact)})
      for (const ElementId load : graph_.loads_of_net(graph_.net_at_rest(pin))) {
        const Part* const part = part_of(load, graph_);
        if (part == nullptr || part->kind != PartKind::coil || part->part == circuit.relay) continue;
        if (is_stop(role_of_part(part->part, netlist_))) circuit.outputs.push_back({contact, load});
      }
  }

  void add_shown(StopCircuit& circuit) const {
    for (std::size_t channel = 0; channel < netlist_.channels.size(); ++channel) {
      const ElementId contact = fittings_.tests[channel].contact;
      if (netlist_.channels[channel].type != ChannelType::DI || contact == ElementId::none) continue;
      const std::string_view mover = part_of(contact, graph_)->actuated_by;
      const bool is_moved =
          mover == circuit.relay ||
          std::any_of(circuit.outputs.begin(), circuit.outputs.end(),
                      [&](const StopOutput& output) { return part_of(output.coil, graph_)->part == mover; });
      if (is_moved)
        circuit.shown_by.push_back({channel, part_of(contact, graph_)->kind == PartKind::contact_no});
    }
  }

  /// Devices of panel and door that a hand operates, with a contact in the loop.
  [[nodiscard]] std::vector<std::string> devices_in(const std::vector<StopLoop>& loops, PartKind kind) const {
    std::vector<std::string> devices;
    for (const StopLoop& loop : loops)
      for (const ElementId contact : loop.contacts) {
        const Part& part = *part_of(contact, graph_);
        const std::string device(part.actuated_by);
        if (part.place == PartPlace::field || part.kind != kind || has_coil(device, netlist_)) continue;
        if (std::find(devices.begin(), devices.end(), device) == devices.end()) devices.push_back(device);
      }
    return devices;
  }

  void add_steps(StopCircuit& circuit) const {
    using What = StopStep::What;
    const std::vector<std::string> resets = devices_in(circuit.resets, PartKind::contact_no);
    if (resets.empty() || circuit.channels.empty()) return;
    std::vector<ElementId> box;
    for (const MissingContact& missing : circuit.missing) box.push_back(missing.contact);
    const auto add = [&](What what, std::vector<ElementId> contacts, std::string device, bool is_in) {
      circuit.steps.push_back({what, std::move(contacts), std::move(device), is_in, false});
    };
    if (!box.empty()) add(What::connect, box, "", false);
    add(What::reset, {}, resets.front(), true);
    for (const ElementId contact : box) {
      add(What::open, {contact}, "", false);
      add(What::close, {contact}, "", false);
      if (box.size() > 1) {
        add(What::reset, {}, resets.front(), false);
        circuit.steps.back().depends_on_make = true;
        add(What::open, box, "", false);
        add(What::close, box, "", false);
      }
      add(What::reset, {}, resets.front(), true);
    }
    for (const std::string& device : devices_in(circuit.channels, PartKind::contact_nc)) {
      add(What::operate, {}, device, false);
      add(What::release, {}, device, false);
      add(What::reset, {}, resets.front(), true);
    }
  }

  const ConductionGraph& graph_;
  const Netlist& netlist_;
  const Fittings& fittings_;
};

}  // namespace

Role role_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  if (origin.from == ElementOrigin::From::conductor) return graph.netlist().conductors[origin.row].role;
  const Part* const part = part_of(element, graph);
  if (part == nullptr) return Role::none;
  if (part->role != Role::none) return part->role;
  const Role own = role_of_part(part->part, graph.netlist());
  return own != Role::none || !is_contact(part->kind) ? own
                                                      : role_of_part(part->actuated_by, graph.netlist());
}

std::vector<MissingContact> missing_contacts(const ConductionGraph& graph) {
  std::vector<MissingContact> missing;
  for (std::uint32_t row = 0; row < graph.netlist().parts.size(); ++row)
    if (is_missing(graph.element_of_part(row), graph))
      missing.push_back(missing_contact(graph.element_of_part(row), graph));
  return missing;
}

std::vector<StopCircuit> stop_circuits(const ConductionGraph& graph, const Fittings& fittings) {
  const CircuitFinder finder(graph, fittings);
  std::vector<StopCircuit> circuits;
  std::vector<std::string_view> seen;
  for (const Part& part : graph.netlist().parts) {
    if (part.kind != PartKind::electronics || std::find(seen.begin(), seen.end(), part.part) != seen.end())
      continue;
    seen.push_back(part.part);
    if (!is_stop(role_of_part(part.part, graph.netlist()))) continue;
    StopCircuit circuit = finder.find(part.part);
    if (!circuit.channels.empty()) circuits.push_back(std::move(circuit));
  }
  StopCircuit rest;
  for (MissingContact& missing : missing_contacts(graph)) {
    const auto has_it = [&](const StopCircuit& circuit) {
      return std::any_of(circuit.missing.begin(), circuit.missing.end(),
                         [&](const MissingContact& known) { return known.contact == missing.contact; });
    };
    if (std::none_of(circuits.begin(), circuits.end(), has_it)) rest.missing.push_back(std::move(missing));
  }
  if (!rest.missing.empty()) {
    rest.role = role_of(rest.missing.front().contact, graph);
    circuits.push_back(std::move(rest));
  }
  return circuits;
}

}  // namespace ringtrue::logic
