#include <memory>
#include <optional>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/power/before.hpp"
#include "ringtrue/power/power_up.hpp"
#include "ringtrue/report/power_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct EnergiseCall : DiagnosingOptions {
  bool csv = false;
};

ExitStatus run_energise(const EnergiseCall& call) {
  const auto made = call.has_readings() ? diagnose_readings(call) : compare_readings(call);
  if (!made) return refuse(made.error());
  const Diagnosed& panel = **made;
  if (panel.graph.netlist().potentials.empty())
    say("the netlist names no potentials, so no voltage is expected anywhere");
  const PowerUp power_up = plan_power_up(panel.graph);
  std::optional<BeforePower> before;
  if (call.has_readings())
    before = before_power(panel.graph, power_up, panel.panel.readings, panel.comparison, panel.findings,
                          open_temporary_changes(panel.panel.events));
  const PowerReport report{panel.graph, power_up, before ? &*before : nullptr};
  const bool may_go_on = !before || before->nothing_stands_against();
  return write_result(call.json  ? power_json(report)
                      : call.csv ? power_csv(report)
                                 : power_text(report, call.detail()),
                      may_go_on ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_energise(CLI::App& command) {
  const auto call = std::make_shared<EnergiseCall>();
  add_common_options(command, *call);
  CLI::Option* json = command.get_option("--json");
  command.add_flag("--csv", call->csv, "Print the measurements as a sheet to be filled in")->excludes(json);
  add_meter_options(command, call->meter);
  return [call] { return run_energise(*call); };
}

}  // namespace ringtrue::cli
