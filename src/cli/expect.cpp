#include <memory>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/expect/explain.hpp"
#include "ringtrue/graph/typed_names.hpp"
#include "ringtrue/report/expect_report.hpp"
#include "settings.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct ExpectOptions : CommonOptions {
  std::string from, to, when, settings;
  MeterOptions meter;
};

/// The two probes as looked up, with their names in full.
struct Probes {
  Probing probing;
  std::string from, to;
};

class ProbeFinder {
 public:
  ProbeFinder(const ConductionGraph& graph, const Condition& condition)
      : graph_(graph), condition_(condition), overlay_(overlay_of(condition, graph)) {}

  Result<Probes> find(const std::string& from, const std::string& to) {
    Probes probes;
    if (to.empty()) {
      const auto ends = find_typed_wire(from, graph_.netlist());
      if (!ends) return tl::unexpected(ends.error());
      probes.probing.from = ends->first.point, probes.probing.to = ends->second.point;
      probes.from = graph_.netlist().points.name(probes.probing.from);
      probes.to = graph_.netlist().points.name(probes.probing.to);
    } else {
      look_up(from, "FROM", probes.probing.from, probes.probing.from_either_side, probes.from);
      look_up(to, "TO", probes.probing.to, probes.probing.to_either_side, probes.to);
    }
    if (!errors_.empty()) return tl::unexpected(std::move(errors_));
    return probes;
  }

 private:
  void look_up(const std::string& typed, std::string_view argument, PointId& point, bool& either_side,
               std::string& name) {
    const auto complain = [&](const Errors& errors) {
      for (Error error : errors) {
        error.place.field = argument;
        errors_.push_back(std::move(error));
      }
    };
    if (typed.find('@') != std::string::npos) {
      const auto end = find_lifted_end(typed, condition_, overlay_, graph_);
      if (!end) return complain(end.error());
      point = *end, name = typed;
      return;
    }
    const auto found = find_typed_point(typed, graph_.netlist());
    if (!found) return complain(found.error());
    const PointTable& points = graph_.netlist().points;
    point = found->found.point;
    either_side = found->found.side == Side::either;
    name = either_side ? std::string(points.place_name(points.place(point))) : points.name(point);
  }

  const ConductionGraph& graph_;
  const Condition& condition_;
  ConditionOverlay overlay_;
  Errors errors_;
};

/// Volts are another matter, and a meter in ohms doesn't belong on a live panel.
std::optional<Error> live_condition(const Condition& condition, const std::string& when) {
  if (!condition.has(State::power_on)) return std::nullopt;
  return Error{ErrorCode::state_does_not_fit,
               "a continuity reading cannot be taken with power on",
               {"", 0, "", "--when"},
               when,
               "power off",
               {}};
}

std::vector<ExpectReport::WithMeter> meters_asked(const Meters& meters, const MeterOptions& options) {
  std::vector<ExpectReport::WithMeter> asked;
  for (const Meter& meter : meters.rows) asked.push_back({meter.name, meter.settings, {}});
  if (asked.empty()) asked.push_back({"", options.unnamed(), {}});
  return asked;
}

Result<OhmInterval> exchanged(const ConductionGraph& graph, Probing probing, const Condition& condition) {
  std::swap(probing.from, probing.to);
  std::swap(probing.from_either_side, probing.to_either_side);
  const ConditionOverlay made = overlay_of(condition, graph);
  return expected_resistance(View(graph, made.overlay), probing);
}

ExitStatus run_expect(const ExpectOptions& options) {
  const auto settings = options.settings.empty() ? Result<Settings>{} : read_settings(options.settings);
  if (!settings) return refuse(settings.error());
  const auto panel = panel_of({options.netlist, std::nullopt, options.meter.file});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  say_notes(panel->meters.notes, options.detail());
  auto condition = parse_condition(options.when, panel->netlist);
  if (!condition) {
    for (Error& error : condition.error()) error.place.field = "--when";
    return refuse(condition.error());
  }
  if (const auto error = live_condition(*condition, options.when)) return refuse({*error});

  const ConductionGraph graph(panel->netlist, settings->copper);
  const auto probes = ProbeFinder(graph, *condition).find(options.from, options.to);
  if (!probes) return refuse(probes.error());
  ExpectReport report{
      graph,       probes->from, probes->to, options.when, meters_asked(panel->meters, options.meter),
      std::nullopt};
  for (ExpectReport::WithMeter& with : report.meters) {
    auto expectation = explain(graph, probes->probing, options.when, with.settings);
    if (!expectation) return refuse(expectation.error());
    with.expectation = std::move(*expectation);
  }
  if (graph.has_diodes()) report.exchanged = *exchanged(graph, probes->probing, *condition);
  return write_result(options.json ? expect_json(report) : expect_text(report, options.detail()),
                      ExitStatus::good);
}

}  // namespace

Run declare_expect(CLI::App& command) {
  const auto options = std::make_shared<ExpectOptions>();
  add_common_options(command, *options);
  command.add_option("FROM", options->from, "Point of the red lead; or a wire number alone for its two ends")
      ->required()
      ->type_name("");
  command.add_option("TO", options->to, "Point of the black lead")->type_name("");
  command.add_option("--when", options->when, "What is operated, pulled or lifted: \"S1=operated; F3=out\"")
      ->option_text("CONDITIONS");
  add_meter_options(command, options->meter);
  command.add_option("--settings", options->settings, "TOML file with [copper]: hottest_c, length_tolerance")
      ->option_text("FILE");
  return [options] { return run_expect(*options); };
}

}  // namespace ringtrue::cli
