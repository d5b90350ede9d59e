#pragma once
#include <algorithm>
#include <atomic>
#include <deque>

#include "candidates.hpp"
#include "consistency.hpp"
#include "costs.hpp"
#include "landing.hpp"
#include "ringtrue/base/threads.hpp"

namespace ringtrue {

/// All that one thread needs to try faults. A copy shares what doesn't change, and serves another thread.
struct Workplace {
  /// The arguments must outlive it.
  Workplace(const ConductionGraph& graph, const Readings& all_readings, const Comparison& comparison,
            const Priors& all_priors, Threads threads)
      : readings(all_readings),
        priors(all_priors),
        landing(graph, comparison.conditions.overlays),
        consistency(graph, all_readings, comparison, threads) {}
  Workplace(const Workplace& other)
      : readings(other.readings),
        priors(other.priors),
        landing(other.landing),
        consistency(other.consistency) {}
  Workplace& operator=(const Workplace&) = delete;

  const Readings& readings;
  const Priors& priors;
  const Landing landing;
  Consistency consistency;
  const Costs costs{landing, priors};
  const ReadingCosts reading_costs{landing, consistency.comparison(), readings, priors};
  const Candidates candidates{consistency, landing, costs, reading_costs};
};

/// Calls `work(i, place)` for each i below `n`, each thread with a place of its own; the caller's is one.
template <class Work>
void for_each_in_own_place(Threads threads, std::size_t n, const Workplace& own, Work&& work) {
  const std::size_t count = std::min(std::max<std::size_t>(threads.count, 1), n);
  // Made before anybody works, since a place that is worked at can't be copied.
  std::deque<Workplace> others;
  while (others.size() + 1 < count) others.emplace_back(own);
  std::atomic<std::size_t> next = 0;
  for_each_index(threads, count, [&](std::size_t thread) {
    const Workplace& place = thread == 0 ? own : others[thread - 1];
    for (std::size_t i = next++; i < n; i = next++) work(i, place);
  });
}

}  // namespace ringtrue
