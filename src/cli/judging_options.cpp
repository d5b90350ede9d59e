#include "judging_options.hpp"

namespace ringtrue::cli {

void add_judging_options(CLI::App& command, JudgingOptions& options) {
  command
      .add_option("--done", options.readings,
                  "CSV file of readings already taken, which may turn holds into offers;\n"
                  "events.csv beside it is taken along")
      ->option_text("READINGS");
  command
      .add_option("--unproven", options.judging.unproven_by,
                  "Offer what is on hold, on the word of this person; stated in the output.\n"
                  "Nothing turns a refusal")
      ->check(one_name())
      ->option_text("NAME");
  command
      .add_option("--most-volts", options.judging.most_volts,
                  "Refuse jumpers above this many volts DC (default 60, the most)")
      ->check(number_between(1, k_most_jumper_volts, "volts from 1 to 60"))
      ->option_text("VOLTS");
  add_meter_options(command, options.meter);
  command
      .add_option("--settings", options.explaining.settings,
                  "TOML file with [copper], [diagnose] and [priors]")
      ->option_text("FILE");
}

Result<std::unique_ptr<Diagnosed>> panel_to_judge(const JudgingOptions& options) {
  return options.has_readings() ? diagnose_readings(options) : compare_readings(options);
}

const Findings* findings_of(const Diagnosed& made, const JudgingOptions& options) {
  return options.has_readings() ? &made.findings : nullptr;
}

}  // namespace ringtrue::cli
