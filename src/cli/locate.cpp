#include <algorithm>
#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/graph/typed_names.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/numbering.hpp"
#include "ringtrue/report/locate_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct LocateCall : DiagnosingOptions {
  std::string channel, by;
  std::vector<std::string> volts;
  bool is_likely = false;
};

tl::unexpected<Errors> wrong_volts(const std::string& found, std::string expected) {
  return wrong_call("no voltage of this loop", "--volts", found, std::move(expected));
}

Result<LoopVolts> loop_volts(const std::string& text, const InputLoop& loop, const Netlist& netlist) {
  const std::size_t split = text.rfind('=');
  if (split == text.npos) return wrong_volts(text, "POINT=VOLTS, such as X3:1.int=23.9");
  auto value = parse_value(text.substr(split + 1));
  if (!value || value->kind != ValueKind::volts) value = parse_value(text.substr(split + 1) + "V");
  if (!value) return wrong_volts(text, "volts after the =, such as 23.9 or -0.02");
  const auto point = find_typed_point(text.substr(0, split), netlist);
  if (!point) return tl::unexpected(point.error());
  if (point->found.side == Side::either) return wrong_volts(text, "the side that was measured: .int or .ext");
  if (loop.segment_from(point->found.point) < loop.segments.size())
    return LoopVolts{point->found.point, value->number};
  return wrong_volts(text, "a point before the minus on the loop that locate prints");
}

Result<std::vector<LoopVolts>> given_volts(const LocateCall& call, const InputLoop& loop,
                                           const Netlist& netlist) {
  std::vector<LoopVolts> given;
  Errors errors;
  for (const std::string& text : call.volts) {
    const auto volts = loop_volts(text, loop, netlist);
    if (volts)
      given.push_back(*volts);
    else
      errors.insert(errors.end(), volts.error().begin(), volts.error().end());
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return given;
}

/// What was given, and what readings say of the other points.
std::vector<LoopVolts> with_readings(std::vector<LoopVolts> given, const LoopReadings& found) {
  const std::size_t count = given.size();
  for (const LoopReadings::Taken& taken : found.taken) {
    const auto end = given.begin() + static_cast<std::ptrdiff_t>(count);
    const bool is_given = std::any_of(given.begin(), end,
                                      [&](const LoopVolts& each) { return each.point == taken.volts.point; });
    if (!is_given) given.push_back(taken.volts);
  }
  return given;
}

/// The one channel asked for.
Result<std::size_t> one_channel(const Netlist& netlist, const std::string& typed) {
  const auto found = find_channels(netlist, typed);
  if (!found) return tl::unexpected(found.error());
  if (found->size() == 1) return found->front();
  return wrong_call("several channels are called so", "CHANNEL", typed, "the point of one");
}

/// Adds a reading for each voltage given.
/// @return the ids that they got.
Result<std::vector<std::string>> record(const LocateCall& call, const std::vector<LoopVolts>& given,
                                        const InputLoop& loop, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  const std::string to = points.name(loop.minus()), conditions = driving_conditions(loop, graph);
  const std::string note = driven_note(loop, graph);
  auto job = open_job(call.netlist);
  if (!job) return tl::unexpected(job.error());
  auto numbering = Numbering::of(*job);
  if (!numbering) return tl::unexpected(numbering.error());
  std::vector<std::string> ids;
  for (const LoopVolts& volts : given) {
    const std::string from = points.name(volts.point), time = time_now();
    const std::string value = to_text(ReadingValue{ValueKind::volts, volts.volts});
    ReadingRow row;
    row.from = from, row.to = to, row.value = value, row.time = time, row.by = call.by;
    row.conditions = conditions, row.note = note;
    auto id = numbering->append(*job, row);
    if (!id) return tl::unexpected(id.error());
    ids.push_back(std::move(*id));
  }
  return ids;
}

Result<void> record_where_asked(const LocateCall& call, const std::vector<LoopVolts>& given,
                                const InputLoop& loop, const ConductionGraph& graph) {
  if (call.by.empty()) {
    if (!given.empty() && is_job_name(call.netlist))
      say("not recorded in the job: --by NAME records the voltages");
    return {};
  }
  const auto ids = record(call, given, loop, graph);
  if (!ids) return tl::unexpected(ids.error());
  std::string text = "recorded in " + call.netlist + ":";
  for (const std::string& id : *ids) text += ' ' + id;
  say(text);
  return {};
}

ExitStatus run_locate(const LocateCall& call) {
  if (!call.by.empty() && !is_job_name(call.netlist))
    return refuse(wrong_call("voltages are recorded in a job", "--by", call.netlist, "a .rtj job").value());
  const auto made = call.has_readings() ? diagnose_readings(call) : compare_readings(call);
  if (!made) return refuse(made.error());
  const Diagnosed& panel = **made;
  const ConductionGraph& graph = panel.graph;
  const auto channel = one_channel(graph.netlist(), call.channel);
  if (!channel) return refuse(channel.error());
  const auto loop = input_loop(graph, *channel);
  if (!loop) return refuse(loop.error());
  const auto given = given_volts(call, *loop, graph.netlist());
  if (!given) return refuse(given.error());
  if (const auto recorded = record_where_asked(call, *given, *loop, graph); !recorded)
    return refuse(recorded.error());

  const LoopReadings found =
      loop_readings(graph, *loop, panel.panel.readings, panel.panel.events, panel.comparison);
  const std::vector<LoopVolts> measured = with_readings(*given, found);
  const LoopEvidence evidence = loop_evidence(*loop, graph, panel.findings, panel.settings.diagnose.priors);
  const SplitBy by = call.is_likely ? SplitBy::priors : SplitBy::count;
  const Located located = locate(*loop, measured, evidence, by);
  const LocateReport report{graph,          *loop, measured, evidence, located, by, panel.panel.readings,
                            panel.findings, found};
  return write_result(call.json ? locate_json(report) : locate_text(report, call.detail()),
                      located.next ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_locate(CLI::App& command) {
  const auto call = std::make_shared<LocateCall>();
  add_common_options(command, *call);
  command
      .add_option("CHANNEL", call->channel,
                  "Point, address or tag of an input that stays dark, or without current")
      ->required()
      ->type_name("");
  CLI::Option* const volts =
      command
          .add_option("--volts", call->volts,
                      "What the meter showed at a point of the loop; may be given again")
          ->option_text("POINT=V");
  command.add_option("--by", call->by, "Record the voltages in the job as readings; who measured")
      ->check(one_name())
      ->needs(volts)
      ->option_text("NAME (with --volts)");
  command.add_flag("--likely", call->is_likely,
                   "Measure first where a break is likeliest: fewer voltages on average by\n"
                   "the priors, more at worst; both are printed");
  add_explaining_options(command, call->explaining);
  add_meter_options(command, call->meter);
  return [call] { return run_locate(*call); };
}

}  // namespace ringtrue::cli
