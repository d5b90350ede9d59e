#pragma once
#include <string>
#include <vector>

#include "ringtrue/io/analog.hpp"

namespace ringtrue {

/// Tests of analog channels, and what was seen at the one of them.
struct AnalogReport {
  const ConductionGraph& graph;
  std::vector<AnalogSheet> sheets;
  std::vector<AnalogVerdict> seen;  ///< none, or of the only sheet
  SeenAs seen_as = SeenAs::value;
  double tolerance_pct = k_default_tolerance_pct;
  bool tolerance_is_given = false;
};

[[nodiscard]] std::string analog_text(const AnalogReport& report);
/// As netlists/schema/analog.schema.json describes it.
[[nodiscard]] std::string analog_json(const AnalogReport& report);
/// A sheet to be filled in, a row for each point: `seen`, `verdict` and `initials` are empty.
[[nodiscard]] std::string analog_csv(const AnalogReport& report);

/// `the signal is not known`: why nothing is to be connected.
[[nodiscard]] std::string no_hook_up_text(NoHookUp why);
/// What to connect, and to which terminals; or why nothing.
[[nodiscard]] std::string hook_up_text(const AnalogSheet& sheet, const ConductionGraph& graph);

/// The parts of a record of one verdict: `0 %, 4.000 mA`, `8 %`, `8.2 %`,
/// `error +0.625 % of span, tolerance 0.5 %`.
struct AnalogRecord {
  std::string at, given, expected, value, reason;
};
/// @param number  of the verdict in `report.seen`.
[[nodiscard]] AnalogRecord analog_record(const AnalogReport& report, std::size_t number);

}  // namespace ringtrue
