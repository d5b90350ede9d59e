#pragma once
#include <string>
#include <vector>

#include "ringtrue/report/locate_report.hpp"

namespace ringtrue::report {

/// `wire 1003`, `the device or jumper`, `contact S2:13-14`, `the input itself`
[[nodiscard]] std::string segment_noun(const LoopSegment& segment, const LocateReport& report);
/// Of a contact that must be closed before anything passes.
[[nodiscard]] bool is_open_at_rest(const LoopSegment& segment, const ConductionGraph& graph);
/// One to three sentences: what to measure next, or what is broken.
[[nodiscard]] std::string locate_outcome(const LocateReport& report);

/// An open finding that touches the loop, by its likeliest explanation.
struct LoopFinding {
  std::size_t number = 0;             ///< as `compare` numbers it, from 1
  std::string text;                   ///< one or more whole sentences
  std::vector<std::size_t> segments;  ///< that it names
};
[[nodiscard]] std::vector<LoopFinding> loop_findings(const LocateReport& report);

/// `R7 at X3:7.ext (behind an open contact)`
[[nodiscard]] std::string not_taken_words(const LoopReadings::NotTaken& left_out, const LocateReport& report);

}  // namespace ringtrue::report
