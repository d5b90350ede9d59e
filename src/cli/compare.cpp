#include <memory>
#include <optional>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/faults_report.hpp"
#include "settings.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

/// Readings explained of each kind: in the short report, and with --all.
constexpr std::size_t k_few_notes = 6;
constexpr std::size_t k_most_notes = 200;

struct CompareOptions : CommonOptions {
  std::string readings;
  std::string settings, priors;
  std::optional<std::size_t> max_faults;
  bool joint = false;
  bool faults = false;
  MeterOptions meter;
};

Result<Settings> settings_of(const CompareOptions& options) {
  Settings settings;
  if (!options.settings.empty()) {
    auto read = read_settings(options.settings);
    if (!read) return read;
    settings = *read;
  }
  if (!options.priors.empty()) {
    const auto read = read_priors(options.priors, settings.diagnose.priors);
    if (!read) return tl::unexpected(read.error());
    settings.diagnose.priors = *read;
  }
  if (options.max_faults) settings.diagnose.max_faults = *options.max_faults;
  settings.diagnose.joint = options.joint;
  return settings;
}

ExitStatus write_faults(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                        const Priors& priors, const CompareOptions& options) {
  FaultsReport report{graph, readings, priors, {}, {}};
  if (options.all || options.json) report.faults = possible_faults(graph, readings, comparison, priors);
  if (!options.json) report.counts = count_possible_faults(graph, readings, comparison);
  return write_result(options.json ? faults_json(report) : faults_text(report, options.detail()),
                      ExitStatus::good);
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
  if (options.faults)
    return write_faults(graph, panel->readings, *comparison, settings->diagnose.priors, options);
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
  command.add_flag("--joint", options->joint,
                   "Explain all disagreements together, so that faults that mask each other\n"
                   "in different findings are found too; takes longer, so for small panels\n"
                   "or a small --max-faults");
  command.add_flag("--faults", options->faults,
                   "Instead, print the faults that explanations are made of and their priors");
  add_meter_options(command, options->meter);
  command.add_option("--settings", options->settings, "TOML file with [copper], [diagnose] and [priors]")
      ->option_text("FILE");
  command
      .add_option("--priors", options->priors,
                  "TOML file of priors alone, such as blown_fuse = 0.01, before those of\n"
                  "--settings; --faults shows their names and those in force")
      ->option_text("FILE");
  return [options] { return run_compare(*options); };
}

}  // namespace ringtrue::cli
