#pragma once
#include <string>

#include "ringtrue/report/detail.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "ringtrue/revise/retest.hpp"

namespace ringtrue {

/// Two revisions side by side, and what readings of the earlier one are worth in the later one. Holds
/// references only; all must outlive the call.
struct RetestReport {
  const ConductionGraph& before;
  const ConductionGraph& after;
  const Difference& difference;
  const Readings& readings;  ///< as they were taken, before the revision
  const Retest* retest;      ///< null: no readings were given
  const PlanReport* plan;    ///< of what the valid readings leave unproven; null likewise
};

/// For the drafter and the wireman: the changed rows, labels to be changed, readings that no longer stand and
/// why, and the fewest readings for the rest. Plain text, lines of about 100 characters.
[[nodiscard]] std::string retest_text(const RetestReport& report, Detail detail = Detail::short_lists);

/// The same for programs, as netlists/schema/retest.schema.json describes it.
[[nodiscard]] std::string retest_json(const RetestReport& report);

}  // namespace ringtrue
