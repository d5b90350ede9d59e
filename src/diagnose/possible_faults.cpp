#include "ringtrue/diagnose/possible_faults.hpp"

#include <cmath>

#include "universe.hpp"

namespace ringtrue {

std::vector<PossibleFault> possible_faults(const ConductionGraph& graph, const Readings& readings,
                                           const Comparison& comparison, const Priors& priors) {
  const Landing landing(graph, comparison.conditions.overlays);
  const Costs costs(landing, priors);
  const ReadingCosts reading_costs(landing, comparison, readings, priors);
  const Consistency consistency(graph, readings, comparison);
  std::vector<PossibleFault> all;
  for (const Candidate& one : fault_universe(consistency, landing, costs, reading_costs))
    all.push_back({one.fault, 1 / (1 + std::exp(one.cost)), one.cost});
  return all;
}

FaultCounts count_possible_faults(const ConductionGraph& graph, const Readings& readings,
                                  const Comparison& comparison) {
  const Landing landing(graph, comparison.conditions.overlays);
  const Consistency consistency(graph, readings, comparison);
  FaultCounts counts{};
  for_each_fault(consistency, landing,
                 [&](const Fault& fault) { ++counts[static_cast<std::size_t>(fault.kind)]; });
  return counts;
}

}  // namespace ringtrue
