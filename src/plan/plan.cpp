#include "ringtrue/plan/plan.hpp"

#include "at_rest.hpp"
#include "further.hpp"
#include "identify.hpp"
#include "isolate.hpp"
#include "sure.hpp"

namespace ringtrue {

Plan make_plan(const ConductionGraph& graph, const PlanOptions& options, const Done& done) {
  Draft draft(graph, options, done);
  MakingSure sure(draft);
  if (options.goal == Goal::identify) cover_prepared(draft);
  cover_at_rest(draft);
  sure.run();
  if (options.all_elements) {
    cover_operated(draft);
    sure.run();
    cover_loads(draft);
  }
  if (options.goal == Goal::identify) {
    identify(draft);
    if (options.isolation == Isolation::all) isolate_all(draft);
  }
  return draft.finish();
}

}  // namespace ringtrue
