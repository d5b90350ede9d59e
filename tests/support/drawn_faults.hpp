#pragma once
#include <string>
#include <vector>

#include "diagnose/universe.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/random_copper.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {

/// Every fault that the diagnosis knows of.
inline std::vector<Fault> universe_of(const ConductionGraph& graph, const Readings& readings,
                                      const Comparison& comparison) {
  const Landing landing(graph);
  const Costs costs(landing, Priors{});
  const ReadingCosts reading_costs(landing, comparison, readings, Priors{});
  const Consistency consistency(graph, readings, comparison);
  std::vector<Fault> faults;
  for (const Candidate& candidate : fault_universe(consistency, landing, costs, reading_costs))
    faults.push_back(candidate.fault);
  return faults;
}

inline std::string random_panel(unsigned seed) {
  switch (seed % 3) {
    case 0:
      return random_netlist(seed);
    case 1:
      return random_copper(seed);
    default:
      return random_small_panel(seed);
  }
}

/// What no drawing can show, told from the netlist's rows alone.
inline bool cannot_be_drawn(const Fault& fault, const Netlist& net) {
  if (fault.kind == FaultKind::wrong_value) {
    if (index(fault.element) < net.conductors.size()) return true;
    const std::size_t row = index(fault.element) - net.conductors.size();
    return row >= net.parts.size() || net.parts[row].kind <= PartKind::path;
  }
  if (fault.kind != FaultKind::open && fault.kind != FaultKind::missing_bridge) return false;
  if (index(fault.element) < net.conductors.size()) return false;
  const std::size_t row = index(fault.element) - net.conductors.size();
  return row >= net.parts.size() || net.parts[row].strip_like;
}

}  // namespace ringtrue::testing
