#pragma once
#include "diagnosing.hpp"
#include "ringtrue/io/jumper_verdict.hpp"

namespace ringtrue::cli {

/// How jumpers are judged; `readings` are those of --done, or empty.
struct JudgingOptions : DiagnosingOptions {
  JumperOptions judging;
};

/// --done, --unproven, --most-volts, the meter and --settings. `options` must outlive the parsing.
void add_judging_options(CLI::App& command, JudgingOptions& options);

/// The panel, with findings where there are readings.
[[nodiscard]] Result<std::unique_ptr<Diagnosed>> panel_to_judge(const JudgingOptions& options);
/// Those findings; null where there are no readings.
[[nodiscard]] const Findings* findings_of(const Diagnosed& made, const JudgingOptions& options);

}  // namespace ringtrue::cli
