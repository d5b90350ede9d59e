#pragma once
#include <unordered_set>
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// The net and every net that loads join to it, through whatever resistance: where current between the probes
/// of a reading in ohms can flow. Sorted. Cost: the loads of those nets.
[[nodiscard]] std::vector<NetId> nets_joined_by_loads(const View& view, NetId net);

/// The nets that loads with an upper limit join to some nets, those among them.
[[nodiscard]] std::unordered_set<NetId> nets_within_reach(const View& view, const std::vector<NetId>& from);

/// The nets on the way of least resistance through loads, from one set of nets to another, with every load at
/// its lowest value; empty where the way has more than `most`, or there is none. Diodes don't count. Cost:
/// the loads of the nets within `most`.
[[nodiscard]] std::vector<NetId> way_through_loads(const View& view, const std::vector<NetId>& from,
                                                   const std::vector<NetId>& to, Ohms most);

}  // namespace ringtrue
