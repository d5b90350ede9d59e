#pragma once
#include <span>
#include <string>
#include <vector>

#include "ringtrue/power/locate.hpp"
#include "ringtrue/power/loop_readings.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// A dark input as it was asked for. Holds references only; all must outlive the call.
struct LocateReport {
  const ConductionGraph& graph;
  const InputLoop& loop;
  std::span<const LoopVolts> measured;  ///< those of `loop_readings` too
  const LoopEvidence& evidence;
  const Located& located;
  SplitBy by = SplitBy::count;
  const Readings& readings;
  const Findings& findings;
  const LoopReadings& loop_readings;
};

/// The loop point by point with what was measured, the suspects, and the next point or the fault. Plain text,
/// lines of about 100 characters.
[[nodiscard]] std::string locate_text(const LocateReport& report, Detail detail = Detail::short_lists);

/// The same for programs, as netlists/schema/locate.schema.json describes it.
[[nodiscard]] std::string locate_json(const LocateReport& report);

}  // namespace ringtrue
