#pragma once
#include <vector>

#include "candidates.hpp"
#include "consistency.hpp"

namespace ringtrue {

/// Divides the disagreeing readings into groups that can be explained apart.
///
/// Two readings belong together if one fault takes both on, contradicts no agreeing reading, and costs less
/// than the cheapest faults that explain each alone. Groups come in the order of their first reading. Cost:
/// one branch set per reading, one trial per fault that two readings share.
[[nodiscard]] std::vector<Scope> cluster(const Candidates& candidates, const Consistency& consistency,
                                         const Landing& landing);

}  // namespace ringtrue
