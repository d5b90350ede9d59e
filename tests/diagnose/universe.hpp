#pragma once
#include <string>
#include <vector>

#include "diagnose/fault_sets.hpp"
#include "diagnose/landing.hpp"

namespace ringtrue::testing {

/// Every single fault of the universe, by plain enumeration; landings and joins at every point
/// (`every_point`) or one per block.
inline std::vector<Fault> every_fault(const ConductionGraph& graph, const Landing& landing,
                                      bool every_point) {
  std::vector<Fault> all;
  constexpr End ends[] = {End::a, End::b};
  std::vector<PointId> places;
  for (std::uint32_t p = 0; p < graph.point_count(); ++p)
    if (every_point || landing.first_of_block(landing.block(PointId{p})) == PointId{p})
      places.push_back(PointId{p});
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId e{i};
    const bool exists = graph.is_hard(e) && (graph.is_on_at_rest(e) || graph.kind(e) == ElementKind::contact);
    if (!exists || (graph.kind(e) == ElementKind::contact && !landing.can_be_exchanged(e))) continue;
    Fault fault;
    fault.kind = landing.open_kind(e);
    fault.element = e;
    all.push_back(fault);
    if (graph.kind(e) == ElementKind::contact) {
      fault.kind = FaultKind::wrong_contact;
      fault.element2 = landing.other_contact(e);
      if (fault.element2 != ElementId::none && fault.element2 < e) continue;
      all.push_back(fault);
    }
  }
  for (std::uint32_t i = 0; i < graph.conductor_count(); ++i)
    for (const End end : ends) {
      const ElementId e{i};
      if (!landing.is_movable(e)) continue;
      const PointId drawn = landing.drawn(e, end);
      for (const PointId p : places) {
        if (landing.block(p) == landing.block(drawn)) continue;
        Fault fault;
        fault.kind = FaultKind::miswire;
        fault.element = e, fault.end = end, fault.p = p;
        all.push_back(fault);
      }
      for (std::uint32_t j = i + 1; j < graph.conductor_count(); ++j)
        for (const End other : ends) {
          const ElementId f{j};
          if (!landing.is_movable(f) || landing.block(landing.drawn(f, other)) == landing.block(drawn)) continue;
          Fault fault;
          fault.kind = FaultKind::swap;
          fault.element = e, fault.end = end, fault.element2 = f, fault.end2 = other;
          all.push_back(fault);
        }
    }
  for (const PointId p : places)
    for (const PointId q : places) {
      if (q <= p || landing.block(p) == landing.block(q)) continue;
      Fault fault;
      fault.kind = landing.join_kind(p, q);
      fault.p = p, fault.q = q;
      all.push_back(fault);
    }
  return all;
}

/// The same fault, apart from the point of a block at which something lands.
inline bool same_fault(const Fault& x, const Fault& y, const Landing& landing) {
  const auto joins = [](const Fault& f) {
    return f.kind == FaultKind::short_circuit || f.kind == FaultKind::extra_bridge;
  };
  if (joins(x) && joins(y))
    return std::minmax({landing.block(x.p), landing.block(x.q)}) ==
           std::minmax({landing.block(y.p), landing.block(y.q)});
  if (x.kind != y.kind || x.element != y.element || x.element2 != y.element2 || x.end != y.end ||
      x.end2 != y.end2)
    return false;
  return x.p == y.p ||
         (x.p != PointId::none && y.p != PointId::none && landing.block(x.p) == landing.block(y.p));
}

inline std::string text_of(const Fault& fault, const ConductionGraph& graph) {
  std::string text(word(fault.kind));
  for (const ElementId e : {fault.element, fault.element2})
    if (e != ElementId::none) text += " " + graph.element_name(e);
  if (fault.kind == FaultKind::miswire || fault.kind == FaultKind::swap)
    text += fault.end == End::a ? ".a" : ".b";
  if (fault.kind == FaultKind::swap) text += fault.end2 == End::a ? ".a" : ".b";
  if (fault.kind == FaultKind::shift) text += " by " + std::to_string(fault.places);
  if (fault.above) text += " above";
  if (fault.kind == FaultKind::bad_reading) text += " " + std::to_string(index(fault.reading));
  for (const PointId p : {fault.p, fault.q})
    if (p != PointId::none) text += " " + graph.netlist().points.name(p);
  return text;
}

}  // namespace ringtrue::testing
