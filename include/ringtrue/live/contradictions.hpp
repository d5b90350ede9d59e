#pragma once
#include <string>
#include <vector>

#include "ringtrue/diagnose/state.hpp"

namespace ringtrue {

/// Readings of one pair of points under one condition that contradict each other, so that none of them
/// counts; each group in the order in which they were taken, the groups by their first.
[[nodiscard]] std::vector<std::vector<ReadingId>> contradictions(const DiagnosisState& state);

/// `X1:5 to A1:0.3: R5 open, R9 beep contradict each other, so none of them counts`, and what may be behind
/// it.
[[nodiscard]] std::string contradiction_line(const DiagnosisState& state,
                                             const std::vector<ReadingId>& group);

}  // namespace ringtrue
