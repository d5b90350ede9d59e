#include <algorithm>

#include "power_state.hpp"

namespace ringtrue::power {

bool is_protective_device(const Part& part) {
  const bool breaks =
      part.kind == PartKind::isolator || part.kind == PartKind::breaker || part.kind == PartKind::fuse;
  return breaks && part.place != PartPlace::field;
}

std::vector<Conducts> conduction(const ConductionGraph& graph, const Switching& switching) {
  const Netlist& netlist = graph.netlist();
  std::vector<Conducts> conducts(graph.element_count(), Conducts::no);
  for (std::uint32_t i = 0; i < conducts.size(); ++i) {
    const ElementId e{i};
    const ElementOrigin origin = graph.origin(e);
    bool is_on = graph.is_on_at_rest(e);
    if (origin.from == ElementOrigin::From::part) {
      const Part& part = netlist.parts[origin.row];
      if (is_protective_device(part)) is_on = switching.closed.contains(part.part);
      if (switching.unplugged.contains(part.part)) is_on = false;
    } else if (origin.from == ElementOrigin::From::channel) {
      const PointId point = netlist.channels[origin.row].point;
      if (switching.unplugged.contains(part_of_place(netlist.points.place_name(netlist.points.place(point)))))
        is_on = false;
    }
    if (is_on) conducts[i] = Conducts::yes;
  }
  return conducts;
}

Nets nets_of(const ConductionGraph& graph, const std::vector<Conducts>& conducts) {
  constexpr std::uint32_t k_none = 0xFFFFFFFFu;
  Nets nets{std::vector<std::uint32_t>(graph.point_count(), k_none), 0};
  std::vector<PointId> todo;
  for (std::uint32_t first = 0; first < graph.point_count(); ++first) {
    if (nets.of[first] != k_none) continue;
    nets.of[first] = nets.count;
    todo.push_back(PointId{first});
    while (!todo.empty()) {
      const PointId p = todo.back();
      todo.pop_back();
      for (const ElementId e : graph.elements_at(p)) {
        if (!graph.is_hard(e) || conducts[index(e)] != Conducts::yes) continue;
        const PointId to = graph.other_end(e, p);
        if (nets.of[index(to)] != k_none) continue;
        nets.of[index(to)] = nets.count;
        todo.push_back(to);
      }
    }
    ++nets.count;
  }
  return nets;
}

}  // namespace ringtrue::power
