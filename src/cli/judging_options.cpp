#include "judging_options.hpp"

#include <algorithm>

#include "ringtrue/base/utf8.hpp"

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
      ->check([](const std::string& name) {
        constexpr std::size_t k_most_bytes = 200;
        if (name.find_first_not_of(" \t") == name.npos) return std::string("expected a name, found none");
        const auto is_control = [](unsigned char c) { return c < 0x20 || c == 0x7F; };
        const bool is_one_line = std::none_of(name.begin(), name.end(), is_control);
        return std::string(is_one_line && name.size() <= k_most_bytes && !first_bad_utf8(name)
                               ? ""
                               : "expected a name of one line, up to 200 bytes of UTF-8");
      })
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
