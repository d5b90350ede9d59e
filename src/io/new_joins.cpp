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

bool NewJoins::possible(PointId a, PointId b, PointId p, PointId q) const {
  const Nets from = {copper_.steady(a), copper_.steady(b)}, to = {copper_.steady(p), copper_.steady(q)};
  if (from[0] == from[1] || to[0] == to[1]) return false;
  const Nets any = way(from, to, NetId::none);
  return !any.empty() &&
         std::none_of(any.begin(), any.end(), [&](NetId parting) { return way(from, to, parting).empty(); });
}

/// A way from one of the nets to one of the others that doesn't touch the net `without`; empty if there is
/// none.
NewJoins::Nets NewJoins::way(const Nets& from, const Nets& to, NetId without) const {
  std::unordered_map<NetId, NetId> came_from;
  Nets open;
  const auto meet = [&](NetId net, NetId before) {
    if (net != without && came_from.emplace(net, before).second) open.push_back(net);
  };
  for (const NetId net : from) meet(net, NetId::none);
  for (std::size_t i = 0; i < open.size(); ++i) {
    if (std::find(to.begin(), to.end(), open[i]) != to.end()) {
      Nets found;
      for (NetId net = open[i]; net != NetId::none; net = came_from.at(net)) found.push_back(net);
      return found;
    }
    if (const auto at = beside_.find(open[i]); at != beside_.end()) {
      const NetId here = open[i];
      for (const NetId net : at->second) meet(net, here);
    }
  }
  return {};
}

}  // namespace ringtrue::io
