#include <memory>
#include <optional>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/plan/plan.hpp"
#include "ringtrue/report/plan_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct PlanCall : DiagnosingOptions {  // `readings` are those of --done, or empty
  std::string goal = "detect", isolation, elements = "at-rest", bodies = "on";
  bool no_lifts = false, certificate = false, csv = false;
};

PlanOptions plan_options(const PlanCall& call, const Meters& meters) {
  PlanOptions options;
  options.goal = call.goal == word(Goal::identify) ? Goal::identify : Goal::detect;
  options.isolation = call.isolation == word(Isolation::all) ? Isolation::all : Isolation::neighbours;
  options.all_elements = call.elements == "all";
  options.bodies = call.bodies == "on";
  options.lifts = !call.no_lifts;
  options.meters = meters;
  options.meter = MeterTable(meters, call.meter.unnamed()).of(ReadingId{0});
  return options;
}

/// The plan certified together with what was read before; owns what the report refers to.
struct Certified {
  TakenAndPlanned all;
  Comparison comparison;
  Certificate certificate;
};

Result<Certified> certified(const Plan& plan, const Diagnosed& made, const Done& done, const PlanCall& call) {
  Certified result;
  result.all = taken_and_planned(done, plan, made.graph);
  auto comparison = compare(made.graph, result.all.readings, {}, made.panel.meters, call.meter.unnamed());
  if (!comparison) return tl::unexpected(comparison.error());
  result.comparison = std::move(*comparison);
  CertifyOptions options;
  options.planned_from = result.all.taken;
  options.shown_otherwise = shown_by_group_tests(plan, made.graph);
  if (has_very_many_faults(made.graph)) {
    options.comes_first = [&](const Fault& fault) { return is_near(fault, made.graph); };
    options.first_only = true;
  }
  result.certificate = certify(made.graph, result.all.readings, result.comparison, options);
  return result;
}

ExitStatus write_plan(const PlanReport& report, const PlanCall& call, ExitStatus status) {
  if (call.json) return write_result(plan_json(report), status);
  if (!call.csv) return write_result(plan_text(report, call.detail()), status);
  if (report.contradictions != 0) say(contradiction_text(report.contradictions));
  return write_result(plan_csv(report), status);
}

ExitStatus run_plan(const PlanCall& call) {
  if (!call.isolation.empty() && call.goal != word(Goal::identify))
    return refuse(
        {{ErrorCode::bad_call, "it needs --goal identify", {"", 0, "", "--isolation"}, "", "", {}}});
  const auto made = call.has_readings() ? diagnose_readings(call) : compare_readings(call);
  if (!made) return refuse(made.error());
  const Diagnosed& panel = **made;
  Done done;
  if (call.has_readings()) done = {&panel.panel.readings, &panel.comparison, &panel.findings.proven};

  const PlanOptions options = plan_options(call, panel.panel.meters);
  const Plan plan = make_plan(panel.graph, options, done);
  PlanReport report{panel.graph, plan, options, panel.comparison.disagree, nullptr};
  if (!call.certificate) return write_plan(report, call, panel.status());
  const auto certificate = certified(plan, panel, done, call);
  if (!certificate) return refuse(certificate.error());
  const CertificateReport certificate_report{panel.graph, certificate->all.readings, certificate->comparison,
                                             certificate->certificate};
  report.certificate = &certificate_report;
  return write_plan(report, call, panel.status());
}

void add_choice(CLI::App& command, const std::string& name, std::string& value,
                const std::vector<std::string>& words, const std::string& line) {
  command.add_option(name, value, line)->check(one_of(words))->option_text("WORD");
}

}  // namespace

Run declare_plan(CLI::App& command) {
  const auto call = std::make_shared<PlanCall>();
  add_common_options(command, *call);
  CLI::Option* json = command.get_option("--json");
  command.add_flag("--csv", call->csv, "Print a sheet to be filled in, which compare reads")->excludes(json);
  add_choice(command, "--goal", call->goal, {"detect", "identify"},
             "detect: every break that a buzzer can show (default);\n"
             "identify: also miswires, swaps, shifts and joined neighbours");
  add_choice(command, "--isolation", call->isolation, {"neighbours", "all"},
             "With --goal identify: nets shown to be apart: neighbouring points\n"
             "(default), or all, by tests of two groups of nets with a common clip");
  add_choice(command, "--elements", call->elements, {"at-rest", "all"},
             "at-rest: copper that conducts at rest (default); all: also contacts\n"
             "that have to be operated, and loads in ohms");
  add_choice(command, "--bodies", call->bodies, {"on", "off"},
             "off: terminals are taken as sound between their sides (default on)");
  command.add_flag("--no-lifts", call->no_lifts, "Lift no conductor ends; what needs it is not covered");
  command
      .add_option("--done", call->readings,
                  "CSV file of readings already taken: plan what they leave unproven;\n"
                  "events.csv beside it is taken along")
      ->option_text("READINGS");
  command.add_flag("--certificate", call->certificate,
                   "Say of every single fault whether the readings reveal it, and if not,\n"
                   "why; with --done, of these and the planned ones together");
  add_meter_options(command, call->meter);
  command
      .add_option("--settings", call->explaining.settings, "TOML file with [copper], [diagnose] and [priors]")
      ->option_text("FILE");
  return [call] { return run_plan(*call); };
}

}  // namespace ringtrue::cli
