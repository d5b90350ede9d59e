#pragma once
#include <optional>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/earlier_netlist.hpp"

namespace ringtrue::revise {

/// Calls `take(before, after, from)` for each step from a revision to the next, oldest first; the last one is
/// to `newest`. `before` is the graph of the netlist in `from`, and like `after` gone when the call is over.
template <class Take>
void for_each_step(const std::vector<EarlierNetlist>& earlier, const ConductionGraph& newest,
                   const CopperSettings& copper, Take take) {
  std::optional<ConductionGraph> before, next;
  for (std::size_t i = 0; i < earlier.size(); ++i) {
    if (i == 0) before.emplace(earlier[i].netlist, copper);
    const bool is_last = i + 1 == earlier.size();
    if (!is_last) next.emplace(earlier[i + 1].netlist, copper);
    take(*before, is_last ? newest : *next, earlier[i]);
    before.swap(next);
  }
}

}  // namespace ringtrue::revise
