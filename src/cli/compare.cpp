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
  const Diagnosed& found = **made;
  const Readings& readings = found.panel.readings;
  NextOptions looking;
  looking.threads = options.threads;
  ReadingNotes notes;
  std::vector<NextReading> next;
  for_each_index(options.threads, 2, [&](std::size_t which) {
    if (which == 0)
      next = next_readings(found.graph, readings, found.comparison, found.findings, looking);
    else
      notes = note_readings(found.graph, readings, found.comparison, found.findings.proven,
                            options.all ? k_most_notes : k_few_notes);
  });
  const DecidedFindings decided =
      decided_findings(found.panel.decisions, found.findings, found.graph, readings);
  const CompareReport report{found.graph,    readings,     found.comparison,
                             found.findings, notes,        found.settings.diagnose,
                             next,           decided.open, &found.panel.decisions};
  if (!options.json)
    return write_result(compare_text(report, options.detail(), options.threads), (*made)->status());
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
