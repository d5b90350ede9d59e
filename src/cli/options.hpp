#pragma once
#include <CLI/CLI.hpp>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/base/threads.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/report/detail.hpp"

// Arguments that several verbs take, so that each is called and described the same everywhere.

namespace ringtrue::cli {

struct CommonOptions {
  std::string netlist;
  bool json = false;
  bool all = false;
  Threads threads = Threads::all();

  [[nodiscard]] Detail detail() const { return all ? Detail::everything : Detail::short_lists; }
};

struct MeterOptions {
  std::optional<std::string> file;  ///< of meters; not asked for where a job holds them
  std::optional<double> threshold_ohms;

  /// The meter of readings that name none.
  [[nodiscard]] MeterSettings unnamed() const;
};

/// NETLIST, --json, --all and --threads. `options` must outlive the parsing.
void add_common_options(CLI::App& command, CommonOptions& options);

/// --meter and --threshold.
void add_meter_options(CLI::App& command, MeterOptions& options);
/// --threshold alone.
void add_threshold_option(CLI::App& command, MeterOptions& options);

/// A number in [least, most]; the message of a wrong one says what was found and what was expected.
[[nodiscard]] CLI::Validator number_between(double least, double most, std::string expected);
/// The same for a whole number.
[[nodiscard]] CLI::Validator whole_number_between(long least, long most);
/// The name of a person: one line of UTF-8, of up to 200 bytes.
[[nodiscard]] CLI::Validator one_name();
/// UTF-8 without control characters, but for tabs and line ends.
[[nodiscard]] CLI::Validator plain_text();
/// One of the words; the message of another one says what was found and lists them.
[[nodiscard]] CLI::Validator one_of(std::vector<std::string> words);

}  // namespace ringtrue::cli
