#include "ringtrue/plan/plan.hpp"

#include "planner.hpp"

namespace ringtrue {

Plan make_plan(const ConductionGraph& graph, const PlanOptions& options, const Done& done) {
  Planner planner(graph, options, done);
  if (options.goal == Goal::identify) planner.cover_prepared();
  planner.cover_at_rest();
  if (options.all_elements) {
    planner.cover_operated();
    planner.cover_loads();
  }
  if (options.goal == Goal::identify) {
    planner.identify();
    if (options.isolation == Isolation::all) planner.isolate_all();
  }
  return planner.finish();
}

}  // namespace ringtrue
