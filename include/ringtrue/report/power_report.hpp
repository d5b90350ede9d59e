#pragma once
#include <string>

#include "ringtrue/power/before.hpp"
#include "ringtrue/power/power_up.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// A power-up sheet as it was asked for. Holds references only; all must outlive the call.
struct PowerReport {
  const ConductionGraph& graph;
  const PowerUp& power_up;
  const BeforePower* before = nullptr;  ///< null: there are no readings that could show what must stand
};

/// The sheet for a tester: what must stand before, what is open and unplugged, then step by step what to
/// switch, measure and expect, and when to plug in what. Plain text, lines of about 100 characters.
[[nodiscard]] std::string power_text(const PowerReport& report, Detail detail = Detail::short_lists);

/// The same for programs, as netlists/schema/energise.schema.json describes it.
[[nodiscard]] std::string power_json(const PowerReport& report);

/// The measurements as a sheet to be filled in, a row for each. A cell that a spreadsheet would take for a
/// formula begins with an apostrophe.
[[nodiscard]] std::string power_csv(const PowerReport& report);

}  // namespace ringtrue
