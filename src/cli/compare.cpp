#include <memory>
#include <optional>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "settings.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

/// Readings explained of each kind: in the short report, and with --all.
constexpr std::size_t k_few_notes = 6;
constexpr std::size_t k_most_notes = 200;

struct CompareOptions : CommonOptions {
  std::string readings;
  std::string settings;
  std::optional<std::size_t> max_faults;
  MeterOptions meter;
};

Result<Settings> settings_of(const CompareOptions& options) {
  Settings settings;
  if (!options.settings.empty()) {
    auto read = read_settings(options.settings);
    if (!read) return read;
    settings = *read;
  }
  if (options.max_faults) settings.diagnose.max_faults = *options.max_faults;
  return settings;
}

ExitStatus run_compare(const CompareOptions& options) {
  const auto settings = settings_of(options);
  if (!settings) return refuse(settings.error());
  const auto panel = load_panel({options.netlist, options.readings, options.meter.file});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  say_notes(panel->readings.notes, options.detail());

  const ConductionGraph graph(panel->netlist, settings->copper);
  const auto comparison =
      compare(graph, panel->readings, panel->events, panel->meters, options.meter.unnamed());
  if (!comparison) return refuse(comparison.error());
  say_warnings(comparison->unknown_points, options.detail());
  const Findings findings = diagnose(graph, panel->readings, *comparison, settings->diagnose);

  const ReadingNotes notes = note_readings(graph, panel->readings, *comparison, findings.proven,
                                           options.all ? k_most_notes : k_few_notes);

  const CompareReport report{graph, panel->readings, *comparison, findings, notes, settings->diagnose};
  const bool is_good = findings.clusters.empty() && comparison->unknown == 0 && comparison->unstable == 0;
  return write_result(options.json ? compare_json(report) : compare_text(report, options.detail()),
                      is_good ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_compare(CLI::App& command) {
  const auto options = std::make_shared<CompareOptions>();
  add_common_options(command, *options);
  command
      .add_option("READINGS", options->readings, "CSV file of readings; events.csv beside it is taken along")
      ->required()
      ->type_name("");
  command
      .add_option("--max-faults", options->max_faults,
                  "Explain each finding by at most this many faults (default 3)")
      ->check(whole_number_between(1, 9))
      ->option_text("N");
  add_meter_options(command, options->meter);
  command.add_option("--settings", options->settings, "TOML file with [copper], [diagnose] and [priors]")
      ->option_text("FILE");
  return [options] { return run_compare(*options); };
}

}  // namespace ringtrue::cli
