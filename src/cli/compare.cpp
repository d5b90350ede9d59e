#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

/// Readings explained of each kind: in the short report, and with --all.
constexpr std::size_t k_few_notes = 6;
constexpr std::size_t k_most_notes = 200;

ExitStatus run_compare(const DiagnosingOptions& options) {
  const auto made = diagnose_readings(options);
  if (!made) return refuse(made.error());
  const auto& [settings, panel, graph, comparison, findings] = **made;
  const ReadingNotes notes = note_readings(graph, panel.readings, comparison, findings.proven,
                                           options.all ? k_most_notes : k_few_notes);
  const std::vector<NextReading> next = next_readings(graph, panel.readings, comparison, findings);
  const CompareReport report{graph, panel.readings, comparison, findings, notes, settings.diagnose, next};
  return write_result(options.json ? compare_json(report) : compare_text(report, options.detail()),
                      (*made)->status());
}

}  // namespace

Run declare_compare(CLI::App& command) {
  const auto options = std::make_shared<DiagnosingOptions>();
  add_diagnosing_options(command, *options);
  return [options] { return run_compare(*options); };
}

}  // namespace ringtrue::cli
