#pragma once
#include "candidates.hpp"
#include "consistency.hpp"
#include "costs.hpp"
#include "landing.hpp"

namespace ringtrue {

/// All that one thread needs to try faults. A copy shares what doesn't change, and serves another thread.
class Workplace {
 public:
  /// The arguments must outlive it.
  Workplace(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
            const Priors& priors)
      : readings_(readings),
        priors_(priors),
        landing(graph, comparison.conditions.overlays),
        consistency(graph, readings, comparison) {}
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

}  // namespace ringtrue
