#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

Plan make_plan(const ConductionGraph&, const PlanOptions&, const Done&) {
  Plan plan;
  plan.conditions.emplace_back();
  return plan;
}

}  // namespace ringtrue
