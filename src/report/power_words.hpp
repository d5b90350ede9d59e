#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/report/power_report.hpp"

namespace ringtrue::report {

/// One thing that must stand before power comes on.
struct Precondition {
  std::string_view id;     ///< stable: `protective-conductor`
  std::string_view state;  ///< `shown`, `not-shown`, or `to-be-seen` where no readings could show it
  std::string text;        ///< what must stand
  std::string missing;     ///< what the readings lack; empty unless not shown
};
[[nodiscard]] std::vector<Precondition> preconditions(const PowerReport& report, Detail detail);

/// `close breaker Q5`, `the supply from outside comes on`
[[nodiscard]] std::string action_words(const PowerStep& step, const PowerReport& report);
/// `24 V DC`, `230 V AC`
[[nodiscard]] std::string volts_words(const ExpectedVolts& expected);
/// `through K1`; empty where copper leads there.
[[nodiscard]] std::string through_words(const ExpectedVolts& expected, const ConductionGraph& graph);
/// Whole short sentences that belong to the step.
[[nodiscard]] std::vector<std::string> step_cautions(const PowerReport& report, std::size_t number,
                                                     Detail detail);
/// `L1, L2`
[[nodiscard]] std::string potential_names(const std::vector<std::uint32_t>& potentials,
                                          const Netlist& netlist);

/// `X2:1 up to X2:8`: three or more in a row are put together.
[[nodiscard]] std::vector<std::string> in_runs(const std::vector<std::string>& names);
/// `X2:2.ext up to X2:8.ext`, `X13:1.int/.ext`: both sides of a terminal as well.
[[nodiscard]] std::vector<std::string> names_in_runs(const std::vector<PointId>& points,
                                                     const Netlist& netlist);

/// What goes for the whole sheet.
[[nodiscard]] const std::vector<std::string_view>& power_cautions();

}  // namespace ringtrue::report
