#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/plan/plan.hpp"
#include "ringtrue/report/retest_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct RetestCall : DiagnosingOptions {  // `netlist` is the earlier one
  std::string later;
};

ExitStatus write_retest(const RetestReport& report, const RetestCall& call, ExitStatus status) {
  return write_result(call.json ? retest_json(report) : retest_text(report, call.detail()), status);
}

ExitStatus run_retest(const RetestCall& call) {
  DiagnosingOptions earlier = call;
  if (!is_job_name(call.netlist)) earlier.rows = RowsOf::netlist;
  const auto made = compare_readings(earlier);
  if (!made) return refuse(made.error());
  const Diagnosed& before = **made;
  const auto later = panel_of({call.later});
  if (!later) return refuse(later.error());
  say_notes(later->netlist.notes, call.detail());
  const ConductionGraph after(later->netlist, before.settings.copper);
  const Difference differs = difference(before.graph, after);
  const Readings& readings = before.panel.readings;
  if (!call.has_readings())
    return write_retest({before.graph, after, differs, readings, nullptr, nullptr}, call, ExitStatus::good);

  const MeterSettings unnamed = call.meter.unnamed();
  const auto kept =
      retest(before.graph, after, differs, readings, before.comparison, before.panel.meters, unnamed);
  if (!kept) return refuse(kept.error());
  const Findings findings = diagnose(after, kept->renamed, kept->comparison, before.settings.diagnose);
  PlanOptions options;
  options.meters = before.panel.meters;
  options.meter = MeterTable(options.meters, unnamed).of(ReadingId{0});
  const Plan plan = make_plan(after, options, {&kept->renamed, &kept->comparison, &findings.proven});
  const PlanReport planned{after, plan, options, kept->comparison.disagree, nullptr};
  return write_retest({before.graph, after, differs, readings, &*kept, &planned}, call,
                      kept->comparison.disagree == 0 ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_retest(CLI::App& command) {
  const auto call = std::make_shared<RetestCall>();
  command
      .add_option("OLD", call->netlist, "Netlist that the readings were taken by, or a .rtj job with them")
      ->required()
      ->type_name("");
  command.add_option("NEW", call->later, "Netlist of the later revision")->required()->type_name("");
  command
      .add_option("READINGS", call->readings,
                  "CSV file of readings, events.csv beside it is taken along; or a job\nthat holds them")
      ->type_name("");
  command.add_flag("--json", call->json, "Print JSON for programs instead of text");
  command.add_flag("--all", call->all, "Print every list in full");
  add_explaining_options(command, call->explaining);
  add_meter_options(command, call->meter);
  return [call] { return run_retest(*call); };
}

}  // namespace ringtrue::cli
