#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/report/next_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

ExitStatus run_next(const DiagnosingOptions& options) {
  const auto made = diagnose_readings(options);
  if (!made) return refuse(made.error());
  const auto& [settings, panel, graph, comparison, findings] = **made;
  const std::vector<NextReading> next = next_readings(graph, panel.readings, comparison, findings);
  const NextReport report{graph, panel.readings, findings, next, settings.diagnose};
  return write_result(options.json ? next_json(report) : next_text(report, options.detail()),
                      (*made)->status());
}

}  // namespace

Run declare_next(CLI::App& command) {
  const auto options = std::make_shared<DiagnosingOptions>();
  add_diagnosing_options(command, *options);
  return [options] { return run_next(*options); };
}

}  // namespace ringtrue::cli
