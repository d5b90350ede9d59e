#include "options.hpp"

#include <algorithm>
#include <charconv>
#include <utility>

#include "ringtrue/base/utf8.hpp"

namespace ringtrue::cli {

namespace {

template <class Number>
CLI::Validator between(Number least, Number most, std::string expected) {
  const auto check = [least, most, expected = std::move(expected)](std::string& text) -> std::string {
    Number value{};
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool is_whole = read.ec == std::errc{} && read.ptr == text.data() + text.size();
    if (is_whole && value >= least && value <= most) return {};
    return "found \"" + text + "\", expected " + expected;
  };
  return CLI::Validator(check, "");
}

}  // namespace

void add_common_options(CLI::App& command, CommonOptions& options) {
  command
      .add_option("NETLIST", options.netlist,
                  "Folder with conductors.csv, an .xml file, a CSV wire list alone, or a .rtj job")
      ->required()
      ->type_name("");
  command.add_flag("--json", options.json, "Print JSON for programs instead of text");
  command.add_flag("--all", options.all, "Print every list in full");
  command
      .add_option("--threads", options.threads.count,
                  "Use so many threads (default as many as there are cores); the answer is the same")
      ->check(whole_number_between(1, 256))
      ->option_text("N");
}

MeterSettings MeterOptions::unnamed() const {
  MeterSettings meter;
  if (threshold_ohms) meter.threshold = Ohms{*threshold_ohms};
  return meter;
}

void add_meter_options(CLI::App& command, MeterOptions& options) {
  command
      .add_option("--meter", options.file, "CSV file of meters: meter, threshold, range, lead_ohms, accuracy")
      ->option_text("FILE");
  add_threshold_option(command, options);
}

void add_threshold_option(CLI::App& command, MeterOptions& options) {
  command
      .add_option("--threshold", options.threshold_ohms,
                  "A meter that the file lacks beeps at or below this (default 30)")
      ->check(number_between(1e-3, 1e12, "ohms above 0"))
      ->option_text("OHMS");
}

CLI::Validator number_between(double least, double most, std::string expected) {
  return between<double>(least, most, std::move(expected));
}

CLI::Validator whole_number_between(long least, long most) {
  return between<long>(least, most,
                       "a whole number from " + std::to_string(least) + " to " + std::to_string(most));
}

CLI::Validator one_name() {
  const auto check = [](const std::string& name) -> std::string {
    constexpr std::size_t k_most_bytes = 200;
    if (name.find_first_not_of(" \t") == name.npos) return "expected a name, found none";
    const auto is_control = [](unsigned char c) { return c < 0x20 || c == 0x7F; };
    const bool is_one_line = std::none_of(name.begin(), name.end(), is_control);
    return is_one_line && name.size() <= k_most_bytes && !first_bad_utf8(name)
               ? ""
               : "expected a name of one line, up to 200 bytes of UTF-8";
  };
  return CLI::Validator(check, "");
}

CLI::Validator plain_text() {
  const auto check = [](const std::string& text) -> std::string {
    return with_controls_shown(text) == text && !first_bad_utf8(text)
               ? ""
               : "expected text in UTF-8 without control characters";
  };
  return CLI::Validator(check, "");
}

CLI::Validator one_of(std::vector<std::string> words) {
  // For completion; in the help the option's text stands in its place.
  const std::string description = CLI::detail::join(words, "|");
  const auto check = [words = std::move(words)](std::string& text) -> std::string {
    std::string expected;
    for (const std::string& word : words) {
      if (word == text) return {};
      expected += (expected.empty() ? "" : " or ") + word;
    }
    return "found \"" + text + "\", expected " + expected;
  };
  return CLI::Validator(check, description);
}

}  // namespace ringtrue::cli
