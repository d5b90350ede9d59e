#include "potentials.hpp"

namespace ringtrue::report {

PotentialNames::PotentialNames(const ConductionGraph& graph) : graph_(graph) {
  for (const Potential& potential : graph.netlist().potentials)
    if (potential.point != PointId::none)
      by_net_.emplace(index(graph.net_at_rest(potential.point)), potential.name);
}

std::string_view PotentialNames::of(PointId point) const {
  if (index(point) >= graph_.point_count()) return {};
  const auto found = by_net_.find(index(graph_.net_at_rest(point)));
  return found == by_net_.end() ? std::string_view{} : found->second;
}

}  // namespace ringtrue::report
