#pragma once
#include <span>
#include <string>

#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// Everything that a report on the next readings speaks of. Holds references only; all must outlive the call.
struct NextReport {
  const ConductionGraph& graph;
  const Readings& readings;
  const Findings& findings;
  std::span<const NextReading> next;  ///< by cluster
  DiagnoseOptions options;            ///< those used for `findings`
};

/// For people, a block per finding: where to read, under what condition, what each outcome would mean.
/// Plain text, lines of about 100 characters.
[[nodiscard]] std::string next_text(const NextReport& report, Detail detail = Detail::short_lists);

/// For programs, as netlists/schema/next.schema.json describes it.
[[nodiscard]] std::string next_json(const NextReport& report);

}  // namespace ringtrue
