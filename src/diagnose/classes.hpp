#pragma once
#include <vector>

#include "landing.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "search.hpp"

namespace ringtrue {

/// Merges explanations that no reading between points of the drawing can tell apart, ranks them and gives
/// each its share of the probability.
///
/// Two sets of faults are one class if they leave the same copper: the same drawn connections gone, and the
/// same new ones made, where a new connection counts by the blocks it joins. That is so for two wires
/// exchanged at one end or at the other, for landings anywhere on one block, and for a swap and the two
/// landings it equals.
[[nodiscard]] std::vector<Diagnosis> merge_and_rank(std::vector<Explanation> explanations,
                                                    const Landing& landing);

}  // namespace ringtrue
