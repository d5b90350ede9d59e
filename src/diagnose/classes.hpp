#pragma once
#include <vector>

#include "consistency.hpp"
#include "costs.hpp"
#include "landing.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "search.hpp"

namespace ringtrue {

/// Merges explanations that no reading between points of the drawing can tell apart. They have to be sorted
/// by cost, and the diagnoses are.
///
/// Two sets of faults are one class if they leave the same copper: the same drawn connections gone, and the
/// same new ones made, where a new connection counts by the blocks it joins. That is so for two wires
/// exchanged at one end or at the other, for landings anywhere on one block, and for a swap and the two
/// landings it equals. Where none of the scope's readings is in ohms, a joint too bad for a buzzer counts as
/// an open; where no reading in ohms may carry current through it, the search leaves it out and it is added
/// here.
[[nodiscard]] std::vector<Diagnosis> merge(std::vector<Explanation> explanations, const Scope& scope,
                                           const Consistency& consistency, const Landing& landing,
                                           const Costs& costs);

/// Sorts by cost and gives each its rank and its share of the probability.
void rank(std::vector<Diagnosis>& diagnoses);

}  // namespace ringtrue
