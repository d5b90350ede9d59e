#pragma once
#include <string>

#include "ringtrue/report/locate_report.hpp"

namespace ringtrue::report {

/// `wire 1003`, `the device or jumper`, `the input A1:0.0`
[[nodiscard]] std::string segment_noun(const LoopSegment& segment, const ConductionGraph& graph);
/// One or two sentences: what to measure next, or what is broken.
[[nodiscard]] std::string locate_outcome(const LocateReport& report);

}  // namespace ringtrue::report
