#include "new_joins.hpp"

#include <algorithm>

// A lead newly joins p and q where one of its ends reaches p, the other q, and the two ways share no net:
// then just the contacts on the ways may be closed. By Menger's theorem (1927) there are such ways unless a
// single net parts both ends from both targets, and that net lies on any way there is.

namespace ringtrue::io {

NewJoins::NewJoins(const ConductionGraph& graph, const SwitchedCopper& copper) : copper_(copper) {
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId e{i};
    const bool may_conduct = graph.kind(e) == ElementKind::contact || graph.is_diode(e);
    if (!may_conduct || role_of(e, graph) != Role::none) continue;
    const NetId a = copper.steady(graph.end_a(e)), b = copper.steady(graph.end_b(e));
    if (a == b) continue;
    beside_[a].push_back(b);
    beside_[b].push_back(a);
  }
}

NewJoins::Reached NewJoins::reach(const Nets& from, NetId without) const {
  Reached reached;
  Nets open;
  const auto meet = [&](NetId net, NetId before) {
    if (net != without && reached.emplace(net, before).second) open.push_back(net);
  };
  for (const NetId net : from) meet(net, NetId::none);
  while (!open.empty()) {
    const NetId here = open.back();
    open.pop_back();
    if (const auto at = beside_.find(here); at != beside_.end())
      for (const NetId net : at->second) meet(net, here);
  }
  return reached;
}

NewJoins::Lead::Lead(const NewJoins& joins, PointId a, PointId b)
    : joins_(joins), ends_{joins.copper_.steady(a), joins.copper_.steady(b)} {
  if (ends_[0] == ends_[1]) return;
  for (const auto& [net, before] : joins.reach({ends_[0]}, ends_[1])) from_a_.insert(net);
  for (const auto& [net, before] : joins.reach({ends_[1]}, ends_[0])) from_b_.insert(net);
}

bool NewJoins::Lead::joins(PointId p, PointId q) const {
  const NetId at_p = joins_.copper_.steady(p), at_q = joins_.copper_.steady(q);
  const auto leads = [&](NetId at_a, NetId at_b) {
    return from_a_.count(at_a) != 0 && from_b_.count(at_b) != 0;
  };
  if (at_p == at_q || (!leads(at_p, at_q) && !leads(at_q, at_p))) return false;
  const Reached any = joins_.reach(ends_, NetId::none);
  for (NetId parting = at_p; parting != NetId::none; parting = any.at(parting)) {
    const Reached past = joins_.reach(ends_, parting);
    if (past.count(at_p) == 0 && past.count(at_q) == 0) return false;
  }
  return true;
}

}  // namespace ringtrue::io
