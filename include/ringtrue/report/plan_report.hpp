#pragma once
#include <string>

#include "ringtrue/plan/plan.hpp"
#include "ringtrue/report/certificate_report.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// A plan as it was asked for. Holds references only; all must outlive the call.
struct PlanReport {
  const ConductionGraph& graph;
  const Plan& plan;
  const PlanOptions& options;                      ///< those that the plan was made with
  std::size_t contradictions = 0;                  ///< readings taken before that contradict the drawing
  const CertificateReport* certificate = nullptr;  ///< null: not asked for
};

/// The plan for a wireman: what it takes, the readings by condition and by the point where a probe stays,
/// what they don't cover, the walk. Readings and conditions are always told in full. Plain text, lines of
/// about 100 characters.
[[nodiscard]] std::string plan_text(const PlanReport& report, Detail detail = Detail::short_lists);

/// `3 readings contradict the drawing: run compare first. ...`
[[nodiscard]] std::string contradiction_text(std::size_t readings);

/// The plan for programs, as netlists/schema/plan.schema.json describes it.
[[nodiscard]] std::string plan_json(const PlanReport& report);

/// The readings as a sheet to be filled in: with the column `value` filled it is a file of readings. A row
/// without a value is no reading yet. A cell that a spreadsheet would take for a formula begins with an
/// apostrophe, which the loader drops.
/// Source of the form: RFC 4180.
[[nodiscard]] std::string plan_csv(const PlanReport& report);

}  // namespace ringtrue
