#pragma once
#include <functional>
#include <vector>

#include "consistency.hpp"
#include "costs.hpp"
#include "fault_sets.hpp"

namespace ringtrue {

using VisitFault = std::function<void(const Fault&)>;

/// Visits every fault that explanations are made of, for this panel and these readings, each once and in no
/// order. Many: the square of the number of conductor ends.
void for_each_fault(const Consistency& consistency, const Landing& landing, const VisitFault& visit);

/// The same with what each costs; by kind, then by element and place.
[[nodiscard]] std::vector<Candidate> fault_universe(const Consistency& consistency, const Landing& landing,
                                                    const Costs& costs, const ReadingCosts& reading_costs);

}  // namespace ringtrue
