#include "remedies.hpp"

#include <algorithm>
#include <map>

namespace ringtrue {

namespace {

/// The fault in the form that stands for all of the same remedy.
Fault usual_form(Fault fault, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  const auto first_side = [&](PointId p) {
    if (p == PointId::none || points.side(p) != Side::external) return p;
    return points.other_side(p);
  };
  fault.above = false;
  switch (fault.kind) {
    case FaultKind::missing_bridge:
      fault.kind = FaultKind::open;
      break;
    case FaultKind::wrong_value:
      if (graph.is_hard(fault.element)) fault.kind = FaultKind::open;
      break;
    case FaultKind::extra_bridge:
    case FaultKind::short_circuit:
      fault.kind = FaultKind::short_circuit;
      fault.p = first_side(fault.p), fault.q = first_side(fault.q);
      if (fault.q < fault.p) std::swap(fault.p, fault.q);
      break;
    case FaultKind::miswire:
      fault.p = first_side(fault.p);
      break;
    default:
      break;
  }
  return fault;
}

}  // namespace

std::vector<std::uint32_t> remedies_of(std::span<const Diagnosis> diagnoses, const ConductionGraph& graph) {
  std::map<std::vector<Fault>, std::uint32_t> known;
  std::vector<std::uint32_t> remedies;
  for (const Diagnosis& diagnosis : diagnoses) {
    std::vector<Fault> faults;
    for (const Fault& fault : diagnosis.faults) faults.push_back(usual_form(fault, graph));
    std::sort(faults.begin(), faults.end());
    const auto number = static_cast<std::uint32_t>(known.size());
    remedies.push_back(known.emplace(std::move(faults), number).first->second);
  }
  return remedies;
}

}  // namespace ringtrue
