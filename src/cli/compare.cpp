#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/diagnose/decided.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/faults_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

/// Readings explained of each kind: in the short report, and with --all.
constexpr std::size_t k_few_notes = 6;
constexpr std::size_t k_most_notes = 200;

struct CompareOptions : DiagnosingOptions {
  bool faults = false;
};

ExitStatus write_faults(const Diagnosed& made, const CompareOptions& options) {
  const Priors& priors = made.settings.diagnose.priors;
  FaultsReport report{made.graph, made.panel.readings, priors, {}, {}};
  if (options.all || options.json)
    report.faults = possible_faults(made.graph, made.panel.readings, made.comparison, priors);
  if (!options.json) report.counts = count_possible_faults(made.graph, made.panel.readings, made.comparison);
  return write_result(options.json ? faults_json(report) : faults_text(report, options.detail()),
                      ExitStatus::good);
}

ExitStatus run_compare(const CompareOptions& options) {
  const auto made = options.faults ? compare_readings(options) : diagnose_readings(options);
  if (!made) return refuse(made.error());
  if (options.faults) return write_faults(**made, options);
  const auto& [settings, panel, graph, comparison, findings] = **made;
  const ReadingNotes notes = note_readings(graph, panel.readings, comparison, findings.proven,
                                           options.all ? k_most_notes : k_few_notes);
  NextOptions looking;
  looking.threads = options.threads;
  const std::vector<NextReading> next = next_readings(graph, panel.readings, comparison, findings, looking);
  const DecidedFindings decided = decided_findings(panel.decisions, findings, graph, panel.readings);
  const CompareReport report{graph, panel.readings, comparison,      findings, notes, settings.diagnose,
                             next,  decided.open,   &panel.decisions};
  if (!options.json) return write_result(compare_text(report, options.detail()), (*made)->status());
  ResultStream result;
  compare_json(report, [&](std::string_view part) { result.put(part); });
  return result.finish((*made)->status());
}

}  // namespace

Run declare_compare(CLI::App& command) {
  const auto options = std::make_shared<CompareOptions>();
  add_diagnosing_options(command, *options);
  command.add_flag("--faults", options->faults,
                   "Instead, print the faults that explanations are made of and their priors");
  return [options] { return run_compare(*options); };
}

}  // namespace ringtrue::cli
