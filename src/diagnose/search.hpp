#pragma once
#include <cstdint>
#include <functional>
#include <vector>

#include "candidates.hpp"
#include "consistency.hpp"
#include "minimal_sets.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "single_faults.hpp"

namespace ringtrue {

/// A set of faults that explains a scope, and what it costs: the faults, and `k_cost_of_doubt` for each beep
/// that they leave to the unknown value of a load.
using Explanation = CostedSet<Fault>;

struct SearchResult {
  std::vector<Explanation> explanations;  ///< minimal, cheapest first, ties by fault
  double cost_limit = 0;                  ///< complete up to this cost; 0: nothing was searched whole
  bool gave_up = false;  ///< some round would have taken more than `max_sets` or `max_choices`
  bool has_too_many_singles =
      false;                ///< more than `max_choices` single faults down to `least_single_share` may do it
  bool is_partial = false;  ///< that round was the first to find any: there may be cheaper ones
  std::size_t expanded = 0;
};

inline constexpr double k_any_cost = 1e9;

/// Finds all minimal explanations of the scope with at most `options.max_faults` faults, down to
/// `options.least_share` of the likeliest one's probability, and single faults down to
/// `options.least_single_share`. Nothing is found if the likeliest costs more than `dearest`. What `singles`
/// knows of single faults is not sought again.
[[nodiscard]] SearchResult explain(const Candidates& candidates, const Consistency& consistency,
                                   const Costs& costs, const Scope& scope, const DiagnoseOptions& options,
                                   double dearest = k_any_cost, const SingleFaults* singles = nullptr);

/// The same for the pairs of faults that hold a given one; the list is not complete, so it counts as given
/// up. Nothing but what costs less than `dearest`.
[[nodiscard]] SearchResult explain_by_pair(const Candidate& fault, const Candidates& candidates,
                                           const Consistency& consistency, const Costs& costs,
                                           const Scope& scope, const DiagnoseOptions& options,
                                           double dearest);

/// -ln(1/20), estimate: that a load whose value isn't known just lets a buzzer sound is one in twenty at
/// best.
inline constexpr double k_cost_of_doubt = 2.995732273553991;
/// Adds that for each beep that copper would have explained and that only a load at some fitting value still
/// can, takes it away once if the set makes beeps certain that only such a load could have made, and sorts by
/// cost again.
void add_doubts(std::vector<Explanation>& explanations,
                const std::function<Consistency::Doubts(const std::vector<Fault>&)>& doubts_of);

}  // namespace ringtrue
