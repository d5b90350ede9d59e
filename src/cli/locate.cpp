#include <memory>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/graph/typed_names.hpp"
#include "ringtrue/power/locate.hpp"
#include "ringtrue/report/locate_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct LocateCall : DiagnosingOptions {
  std::string channel;
  std::vector<std::string> volts;
};

tl::unexpected<Errors> wrong_volts(const std::string& found, std::string expected) {
  return fail({ErrorCode::bad_call,
               "no voltage of this loop",
               {"", 0, "", "--volts"},
               found,
               std::move(expected),
               {}});
}

Result<LoopVolts> loop_volts(const std::string& text, const InputLoop& loop, const Netlist& netlist) {
  const std::size_t split = text.rfind('=');
  if (split == text.npos) return wrong_volts(text, "POINT=VOLTS, such as X3:1.int=23.9");
  const auto value = parse_value(text.substr(split + 1));
  const bool is_number = value && (value->kind == ValueKind::volts || value->kind == ValueKind::ohms);
  if (!is_number) return wrong_volts(text, "volts after the =");
  const auto point = find_typed_point(text.substr(0, split), netlist);
  if (!point) return tl::unexpected(point.error());
  if (point->found.side == Side::either) return wrong_volts(text, "the side that was measured: .int or .ext");
  for (const LoopSegment& segment : loop.segments)
    if (segment.from == point->found.point) return LoopVolts{point->found.point, value->number};
  return wrong_volts(text, "a point before the minus on the loop that locate prints");
}

/// The one channel asked for.
Result<std::size_t> one_channel(const Netlist& netlist, const std::string& typed) {
  const auto found = find_channels(netlist, typed);
  if (!found) return tl::unexpected(found.error());
  if (found->size() == 1) return found->front();
  return fail({ErrorCode::bad_call, "several channels are called so", {}, typed, "the point of one", {}});
}

ExitStatus run_locate(const LocateCall& call) {
  const auto made = call.has_readings() ? diagnose_readings(call) : compare_readings(call);
  if (!made) return refuse(made.error());
  const ConductionGraph& graph = (*made)->graph;
  const auto channel = one_channel(graph.netlist(), call.channel);
  if (!channel) return refuse(channel.error());
  const auto loop = input_loop(graph, *channel);
  if (!loop) return refuse(loop.error());

  std::vector<LoopVolts> measured;
  for (const std::string& text : call.volts) {
    const auto volts = loop_volts(text, *loop, graph.netlist());
    if (!volts) return refuse(volts.error());
    measured.push_back(*volts);
  }
  std::vector<std::uint8_t> is_proven = (*made)->findings.proven;
  is_proven.resize(graph.element_count(), 0);
  const Located located = locate(*loop, measured, is_proven);
  const LocateReport report{graph, *channel, *loop, measured, is_proven, located};
  return write_result(call.json ? locate_json(report) : locate_text(report),
                      located.next ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_locate(CLI::App& command) {
  const auto call = std::make_shared<LocateCall>();
  add_common_options(command, *call);
  command.add_option("CHANNEL", call->channel, "Point, address or tag of a digital input that stays dark")
      ->required()
      ->type_name("");
  command
      .add_option("--volts", call->volts, "What the meter showed at a point of the loop; may be given again")
      ->option_text("POINT=V");
  add_meter_options(command, call->meter);
  return [call] { return run_locate(*call); };
}

}  // namespace ringtrue::cli
