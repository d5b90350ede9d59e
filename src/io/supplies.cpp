#include "ringtrue/io/supplies.hpp"

namespace ringtrue {

namespace {

/// Current runs from a plus through a diode's anode, and into a minus from its cathode.
bool passes_diode(PotentialKind kind, bool from_anode) {
  if (kind == PotentialKind::dc_plus) return from_anode;
  return kind != PotentialKind::dc_minus || !from_anode;
}

}  // namespace

Supplies::Supplies(const ConductionGraph& graph) : graph_(&graph), kinds_(graph.point_count()) {
  for (const Potential& potential : graph.netlist().potentials) spread(potential.kind, potential.point);
  for (const Part& part : graph.netlist().parts)
    if (part.kind == PartKind::supply) {
      spread(PotentialKind::dc_plus, part.a);
      spread(PotentialKind::dc_minus, part.b);
    } else if (part.kind == PartKind::transformer || part.kind == PartKind::input) {
      for (const PointId pin : {part.a, part.b}) spread(PotentialKind::ac_line, pin);
    }
  spread_marks();
}

/// Conductors are marked with what is on them, be the rest of the way drawn or not.
void Supplies::spread_marks() {
  const Netlist& netlist = graph_->netlist();
  for (std::size_t i = 0; i < netlist.conductors.size(); ++i) {
    const std::string_view mark = netlist.conductor_text.get(ConductorText::potential, i);
    if (mark.empty() || netlist.conductors[i].is_spare()) continue;
    for (const Potential& potential : netlist.potentials)
      if (potential.name == mark) spread(potential.kind, netlist.conductors[i].from);
  }
}

void Supplies::spread(PotentialKind kind, PointId from) {
  const auto bit = static_cast<std::uint8_t>(1u << static_cast<unsigned>(kind));
  std::vector<PointId> open;
  const auto meet = [&](PointId p) {
    if (p == PointId::none || (kinds_[index(p)] & bit) != 0) return;
    kinds_[index(p)] |= bit;
    open.push_back(p);
  };
  meet(from);
  while (!open.empty()) {
    const PointId p = open.back();
    open.pop_back();
    for (const ElementId e : graph_->elements_at(p))
      if (graph_->is_hard(e) || (graph_->is_diode(e) && passes_diode(kind, p == graph_->end_a(e))))
        meet(graph_->other_end(e, p));
  }
}

bool are_on_two_supplies(PointId p, PointId q, const ConductionGraph& graph) {
  if (p == PointId::none || q == PointId::none) return false;
  bool at_p = false, at_q = false;
  for (const Part& part : graph.netlist().parts) {
    if (part.kind != PartKind::supply) continue;
    const auto touches = [&](PointId point) {
      return graph.net_at_rest(point) == graph.net_at_rest(part.a) ||
             graph.net_at_rest(point) == graph.net_at_rest(part.b);
    };
    if (touches(p) && touches(q)) return false;
    at_p |= touches(p), at_q |= touches(q);
  }
  return at_p && at_q;
}

}  // namespace ringtrue
