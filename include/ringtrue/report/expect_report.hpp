#pragma once
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/expect/explain.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// A prediction as it was asked for. Holds references; all must outlive the call.
struct ExpectReport {
  const ConductionGraph& graph;
  std::string from, to;  ///< the points' full names, red lead first
  std::string when;      ///< the condition as typed
  /// The prediction for one meter.
  struct WithMeter {
    std::string meter;  ///< empty: none was named
    MeterSettings settings;
    Expectation expectation;
  };
  std::vector<WithMeter> meters;  ///< at least one; they differ in what concerns the buzzer
  /// With the leads exchanged; nothing where no diode is near, since then it's the same.
  std::optional<OhmInterval> exchanged;
};

/// The prediction for people. Plain text, lines of about 100 characters.
[[nodiscard]] std::string expect_text(const ExpectReport& report, Detail detail = Detail::short_lists);

/// The prediction for programs, as netlists/schema/expect.schema.json describes it.
[[nodiscard]] std::string expect_json(const ExpectReport& report);

}  // namespace ringtrue
