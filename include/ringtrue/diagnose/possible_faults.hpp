#pragma once
#include <array>
#include <cstddef>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/diagnose/priors.hpp"

namespace ringtrue {

/// A fault that explanations are made of, before any reading has spoken for or against it.
struct PossibleFault {
  Fault fault;
  double probability = 0;  ///< its prior, divided where the prior counts for several places
  double cost = 0;         ///< -ln(p / (1 - p)) of it; explanations add these up
};

/// Lists every single fault of the universe in which `diagnose` searches, by kind, then by element and place.
///
/// A conductor end has one landing per piece of copper, and two pieces of copper have one joint, each at
/// neighbours where there are any, else at its first point. Which readings are bad, and which copper has a
/// wrong value, is asked only of current readings. Their number grows with the square of the number of
/// conductors, and so do time and memory.
[[nodiscard]] std::vector<PossibleFault> possible_faults(const ConductionGraph& graph,
                                                         const Readings& readings,
                                                         const Comparison& comparison,
                                                         const Priors& priors = {});

/// How many faults there are, by kind.
using FaultCounts = std::array<std::size_t, k_fault_kinds>;

/// Counts what `possible_faults` lists. Time grows likewise, memory with the panel only.
[[nodiscard]] FaultCounts count_possible_faults(const ConductionGraph& graph, const Readings& readings,
                                                const Comparison& comparison);

}  // namespace ringtrue
