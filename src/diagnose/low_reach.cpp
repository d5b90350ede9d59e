#include "low_reach.hpp"

#include <algorithm>

namespace ringtrue {

LowReach::LowReach(const View& view, PointId point, bool either_side, Ohms threshold) : view_(view) {
  add(view.net(point), 0);
  if (either_side) add(view.net(view.graph().netlist().points.other_side(point)), 0);
  for (std::size_t i = 0; i < nets_.size(); ++i) spread(nets_[i], threshold);
}

std::vector<PointId> LowReach::points() const {
  std::vector<PointId> points;
  const ConductionGraph& graph = view_.graph();
  for (const auto& [net, sum] : nets_) {
    if (index(net) >= graph.net_count()) continue;
    points.insert(points.end(), graph.points_of_net(net).begin(), graph.points_of_net(net).end());
  }
  for (const NetId rest : view_.touched_nets())
    for (const PointId p : graph.points_of_net(rest))
      if (holds(p)) points.push_back(p);
  std::sort(points.begin(), points.end());
  return points;
}

void LowReach::spread(Reached from, Ohms threshold) {
  const ConductionGraph& graph = view_.graph();
  const auto follow = [&](NetId rest) {
    for (const ElementId e : graph.loads_of_net(rest)) {
      const NetId a = view_.net(graph.end_a(e)), b = view_.net(graph.end_b(e));
      const double sum = from.second + view_.interval(e).lo.value;
      if (!view_.is_on(e) || sum > threshold.value) continue;
      if (a == from.first)
        add(b, sum);
      else if (b == from.first)
        add(a, sum);
    }
  };
  if (index(from.first) < graph.net_count())
    follow(from.first);
  else
    for (const NetId rest : view_.touched_nets()) follow(rest);
}

}  // namespace ringtrue
