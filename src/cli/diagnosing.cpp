#include "diagnosing.hpp"

#include "messages.hpp"
#include "panel.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/revise/carry_over.hpp"

namespace ringtrue::cli {

Result<Settings> ExplainingOptions::read() const {
  Settings made;
  if (!settings.empty()) {
    auto read = read_settings(settings);
    if (!read) return read;
    made = *read;
  }
  if (!priors.empty()) {
    const auto read = read_priors(priors, made.diagnose.priors);
    if (!read) return tl::unexpected(read.error());
    made.diagnose.priors = *read;
  }
  made.diagnose.joint = joint;
  if (max_faults) made.diagnose.max_faults = *max_faults;
  return made;
}

void add_explaining_options(CLI::App& command, ExplainingOptions& options) {
  command
      .add_option("--max-faults", options.max_faults,
                  "Explain each finding by at most this many faults (default 3)")
      ->check(whole_number_between(1, 9))
      ->option_text("N");
  command.add_flag("--joint", options.joint,
                   "Explain all disagreements together, so that faults that mask each other\n"
                   "in different findings are found too; takes longer, so for small panels\n"
                   "or a small --max-faults");
  command.add_option("--settings", options.settings, "TOML file with [copper], [diagnose] and [priors]")
      ->option_text("FILE");
  command
      .add_option("--priors", options.priors,
                  "TOML file of priors alone, such as blown_fuse = 0.01, before those of\n"
                  "--settings; compare with --faults shows their names and those in force")
      ->option_text("FILE");
}

void add_diagnosing_options(CLI::App& command, DiagnosingOptions& options) {
  add_common_options(command, options);
  command
      .add_option("READINGS", options.readings,
                  "CSV file of readings; events.csv beside it is taken along; none with a job")
      ->type_name("");
  command.callback([&options] {
    if (!options.has_readings()) throw CLI::RequiredError("READINGS");
  });
  add_explaining_options(command, options.explaining);
  add_meter_options(command, options.meter);
}

bool DiagnosingOptions::has_readings() const { return !readings.empty() || is_job_name(netlist); }

Result<void> Diagnosed::carry_over(const MeterSettings& unnamed) {
  ringtrue::carry_over(panel.earlier, graph, settings.copper, panel.decisions);
  return ringtrue::carry_over(panel.earlier, graph, settings.copper, panel.readings, panel.events,
                              panel.meters, unnamed);
}

ExitStatus Diagnosed::status() const {
  const bool is_good = findings.clusters.empty() && comparison.unknown == 0 && comparison.unstable == 0;
  return is_good ? ExitStatus::good : ExitStatus::findings;
}

namespace {

Result<std::unique_ptr<Diagnosed>> compare_panel(const DiagnosingOptions& options, const Settings& settings,
                                                 Panel panel) {
  say_notes(panel.netlist.notes, options.detail());
  say_notes(panel.readings.notes, options.detail());

  auto made = std::make_unique<Diagnosed>(std::move(panel), settings, options.threads);
  if (options.rows == RowsOf::this_job)
    if (const auto carried = made->carry_over(options.meter.unnamed()); !carried)
      return tl::unexpected(carried.error());
  // The diagnosis asks which points lie beside each other, which no reading is compared by.
  Result<Comparison> comparison;
  for_each_index(options.threads, 2, [&](std::size_t i) {
    if (i == 0)
      comparison = compare(made->graph, made->panel.readings, made->panel.events, made->panel.meters,
                           options.meter.unnamed(), options.threads);
    else
      made->graph.find_parts();
  });
  if (!comparison) return tl::unexpected(comparison.error());
  made->comparison = std::move(*comparison);
  say_warnings(made->comparison.unknown_points, options.detail());
  say_warnings(made->comparison.unknown_clamps, options.detail());
  return made;
}

Result<std::unique_ptr<Diagnosed>> explained(Result<std::unique_ptr<Diagnosed>> made, Threads threads) {
  if (made) {
    Diagnosed& panel = **made;
    panel.settings.diagnose.threads = threads;
    panel.findings = diagnose(panel.graph, panel.panel.readings, panel.comparison, panel.settings.diagnose);
  }
  return made;
}

}  // namespace

Result<std::unique_ptr<Diagnosed>> compare_readings(const DiagnosingOptions& options) {
  const auto settings = options.explaining.read();
  if (!settings) return tl::unexpected(settings.error());
  PanelSource source{options.netlist, std::nullopt, options.meter.file};
  if (!options.readings.empty()) source.readings = options.readings;
  auto panel = panel_of(source, options.threads);
  if (!panel) return tl::unexpected(panel.error());
  return compare_panel(options, *settings, std::move(*panel));
}

Result<std::unique_ptr<Diagnosed>> diagnose_readings(const DiagnosingOptions& options) {
  return explained(compare_readings(options), options.threads);
}

Result<std::unique_ptr<Diagnosed>> diagnose_readings(const DiagnosingOptions& options, Panel panel) {
  const auto settings = options.explaining.read();
  if (!settings) return tl::unexpected(settings.error());
  return explained(compare_panel(options, *settings, std::move(panel)), options.threads);
}

}  // namespace ringtrue::cli
