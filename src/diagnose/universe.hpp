#pragma once
#include <vector>

#include "consistency.hpp"
#include "costs.hpp"
#include "fault_sets.hpp"

namespace ringtrue {

/// Every fault that explanations are made of, for this panel and these readings; by kind, then by element and
/// place. Many: the square of the number of conductor ends.
[[nodiscard]] std::vector<Candidate> fault_universe(const Consistency& consistency, const Landing& landing,
                                                    const Costs& costs, const ReadingCosts& reading_costs);

}  // namespace ringtrue
