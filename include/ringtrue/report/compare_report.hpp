#pragma once
#include <cstdint>
#include <span>
#include <string>

#include "ringtrue/base/threads.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/compare/notes.hpp"
#include "ringtrue/diagnose/decided.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/detail.hpp"
#include "ringtrue/report/text_sink.hpp"

namespace ringtrue {

/// Everything that a report on readings speaks of. Holds references only; all must outlive the call.
struct CompareReport {
  const ConductionGraph& graph;
  const Readings& readings;
  const Comparison& comparison;
  const Findings& findings;
  const ReadingNotes& notes;
  DiagnoseOptions options;                       ///< those used for `findings`
  std::span<const NextReading> next = {};        ///< by cluster; empty: not asked for
  std::span<const DecidedFinding> decided = {};  ///< what a job holds about findings
  const Decisions* decisions = nullptr;          ///< those that they speak of; null: none
};

/// The report for people: summary, findings, channels, what is not proven. Plain text, lines of about 100
/// characters.
[[nodiscard]] std::string compare_text(const CompareReport& report, Detail detail = Detail::short_lists,
                                       Threads threads = {});

/// One finding of it, by its place in `Findings::clusters`.
[[nodiscard]] std::string finding_text(const CompareReport& report, std::size_t number,
                                       Detail detail = Detail::short_lists);

/// The same in a few lines, as it is said to somebody at the panel: what is wrong, what to do, what to read
/// next.
[[nodiscard]] std::string finding_in_short(const CompareReport& report, std::size_t number);

/// The report for programs, as netlists/schema/compare.schema.json describes it. Readings that agree are only
/// counted. Cost: linear in findings, channels and elements that are not proven; no allocation per key.
void compare_json(const CompareReport& report, const TextSink& sink);
[[nodiscard]] std::string compare_json(const CompareReport& report);

}  // namespace ringtrue
