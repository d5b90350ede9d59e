#pragma once
#include <cstdint>
#include <vector>

#include "walk_stops.hpp"

namespace ringtrue {

/// A reading as a step of the walk.
struct Leg {
  std::uint32_t reading = 0;  ///< number of the caller's
  Stop at[2];                 ///< of the two probes
  bool is_fixed = false;      ///< may not be turned round
  bool is_turned = false;     ///< against what the caller gave
};

/// Puts the readings of one condition in an order, and turns those that may be turned, so that the probes are
/// moved with little effort; never more than in the order given.
///
/// Greedy: from each reading on to the nearest among those that stand beside it in two sorted lists; then
/// runs of readings are reversed and single ones moved within a window, while that helps. The shortest walk
/// itself is a travelling salesman's; tests/plan/walk_test.cpp measures what is left over it. Cost: n log n.
void put_in_order(std::vector<Leg>& legs, const WalkStops& stops);

}  // namespace ringtrue
