#include "ringtrue/io/supplies.hpp"

namespace ringtrue {

Supplies::Supplies(const ConductionGraph& graph) : graph_(&graph), kinds_(graph.point_count()) {
  for (const Potential& potential : graph.netlist().potentials) spread(potential.kind, potential.point);
  for (const Part& part : graph.netlist().parts)
    if (part.kind == PartKind::supply) {
      spread(PotentialKind::dc_plus, part.a);
      spread(PotentialKind::dc_minus, part.b);
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
      if (graph_->is_hard(e)) meet(graph_->other_end(e, p));
  }
}

}  // namespace ringtrue
