#pragma once
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// The net and every net that loads join to it, through whatever resistance: where current between the probes
/// of a reading in ohms can flow. Sorted. Cost: the loads of those nets.
[[nodiscard]] std::vector<NetId> nets_joined_by_loads(const View& view, NetId net);

}  // namespace ringtrue
