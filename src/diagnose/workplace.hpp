#pragma once
#include <algorithm>
#include <atomic>

#include "candidates.hpp"
#include "consistency.hpp"
#include "costs.hpp"
#include "landing.hpp"
#include "ringtrue/base/threads.hpp"

namespace ringtrue {

/// All that one thread needs to try faults. A copy shares what doesn't change, and serves another thread.
class Workplace {
 public:
  /// The arguments must outlive it.
  Workplace(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
            const Priors& priors, Threads threads)
      : readings_(readings),
        priors_(priors),
        landing(graph, comparison.conditions.overlays),
        consistency(graph, readings, comparison, threads) {}
  Workplace(const Workplace& other)
      : readings_(other.readings_),
        priors_(other.priors_),
        landing(other.landing),
        consistency(other.consistency) {}
  Workplace& operator=(const Workplace&) = delete;

 private:
  const Readings& readings_;
  const Priors& priors_;

 public:
  const Landing landing;
  Consistency consistency;
  const Costs costs{landing, priors_};
  const ReadingCosts reading_costs{landing, consistency.comparison(), readings_, priors_};
  const Candidates candidates{consistency, landing, costs, reading_costs};
};

/// Calls `work(i, place)` for each i below `n`, each thread with a place of its own; the caller's may be
/// used.
template <class Work>
void for_each_in_own_place(Threads threads, std::size_t n, const Workplace& own, Work&& work) {
  std::atomic<std::size_t> next = 0;
  const auto take_turns = [&](const Workplace& place) {
    for (std::size_t i = next++; i < n; i = next++) work(i, place);
  };
  for_each_index(threads, std::min(threads.count, n),
                 [&](std::size_t thread) { thread == 0 ? take_turns(own) : take_turns(Workplace(own)); });
}

}  // namespace ringtrue
