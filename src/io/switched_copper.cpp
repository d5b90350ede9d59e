#include "switched_copper.hpp"

#include <algorithm>

namespace ringtrue::io {

Role role_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  const Netlist& netlist = graph.netlist();
  switch (origin.from) {
    case ElementOrigin::From::conductor:
      return netlist.conductors[origin.row].role;
    case ElementOrigin::From::part:
    case ElementOrigin::From::pe_rail:
      return netlist.parts[origin.row].role;
    case ElementOrigin::From::channel:
      return netlist.channels[origin.row].role;
    case ElementOrigin::From::implied_terminal:
      break;
  }
  return Role::none;
}

SwitchedCopper::SwitchedCopper(const ConductionGraph& graph) {
  close(steady_, graph, Contacts::open, false);
  for (const Potential& potential : graph.netlist().potentials)
    potential_nets_.push_back(steady(potential.point));
  std::sort(potential_nets_.begin(), potential_nets_.end());
  close(closed_, graph, Contacts::closed, false);
  close(with_diodes_, graph, Contacts::closed, true);
  close(beyond_, graph, Contacts::closed_beyond_potentials, false);
}

void SwitchedCopper::close(State& state, const ConductionGraph& graph, Contacts contacts, bool diodes) {
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId e{i};
    const PointId a = graph.end_a(e), b = graph.end_b(e);
    if (graph.is_conductor(e) && graph.netlist().conductors[i].is_spare()) continue;
    const bool has_role = role_of(e, graph) != Role::none;
    if (diodes && graph.is_diode(e) && !has_role) state.overlay.join(a, b, k_joint_interval);
    if (!graph.is_hard(e)) continue;
    bool on = !has_role;
    if (graph.kind(e) == ElementKind::contact) {
      if (contacts == Contacts::open) on = false;
      if (contacts == Contacts::closed_beyond_potentials && (is_on_potential(a) || is_on_potential(b)))
        on = false;
    }
    if (on == graph.is_on_at_rest(e)) continue;
    on ? state.overlay.switch_on(graph, e) : state.overlay.switch_off(graph, e);
  }
  state.view.emplace(graph, state.overlay);
}

bool SwitchedCopper::is_on_potential(PointId p) const {
  return std::binary_search(potential_nets_.begin(), potential_nets_.end(), steady(p));
}

}  // namespace ringtrue::io
