#include "ringtrue/plan/plan.hpp"

#include "planner.hpp"

namespace ringtrue {

Plan make_plan(const ConductionGraph& graph, const PlanOptions& options, const Done& done) {
  Planner planner(graph, options, done);
  if (options.goal == Goal::identify) planner.cover_prepared();
  planner.cover_at_rest();
  if (options.goal == Goal::identify) planner.identify();
  return planner.finish();
}

}  // namespace ringtrue
