#include "ringtrue/plan/plan.hpp"

#include "planner.hpp"

namespace ringtrue {

Plan make_plan(const ConductionGraph& graph, const PlanOptions& options, const Done& done) {
  Planner planner(graph, options, done);
  planner.cover_at_rest();
  return planner.finish();
}

}  // namespace ringtrue
