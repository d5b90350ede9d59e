#include <algorithm>
#include <memory>

#include "channel_names.hpp"
#include "judging_options.hpp"
#include "messages.hpp"
#include "output.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct JumperCall : JudgingOptions {
  std::vector<std::string> channels;
  bool csv = false;
};

Result<std::vector<std::size_t>> channels_to_test(const JumperCall& call, const Netlist& netlist) {
  if (!call.channels.empty()) return chosen_channels(netlist, call.channels);
  std::vector<std::size_t> inputs;
  for (std::size_t i = 0; i < netlist.channels.size(); ++i)
    if (const ChannelType type = netlist.channels[i].type; type == ChannelType::DI || type == ChannelType::AI)
      inputs.push_back(i);
  return inputs;
}

ExitStatus run_jumper(const JumperCall& call) {
  if (call.channels.empty() && !call.all)
    return refuse({{ErrorCode::bad_call, "no channel is named", {}, "", "channels, or --all", {}}});
  const auto made = panel_to_judge(call);
  if (!made) return refuse(made.error());
  const ConductionGraph& graph = (*made)->graph;
  const auto channels = channels_to_test(call, graph.netlist());
  if (!channels) return refuse(channels.error());
  if (channels->empty()) say("the netlist lists no inputs, so there is nothing to test");

  const std::vector<InputTest> tests = input_tests(graph, *channels, findings_of(**made, call), call.judging);
  const bool lacks_one =
      std::any_of(tests.begin(), tests.end(), [](const InputTest& test) { return !test.is_there(); });
  const ExitStatus status = lacks_one && !call.channels.empty() ? ExitStatus::findings : ExitStatus::good;
  if (call.json) return write_result(jumper_json(tests, graph, call.judging), status);
  if (call.csv) return write_result(jumper_csv(tests, graph, call.judging), status);
  return write_result(jumper_text(tests, graph, call.judging, call.detail()), status);
}

}  // namespace

Run declare_jumper(CLI::App& command) {
  const auto call = std::make_shared<JumperCall>();
  add_common_options(command, *call);
  command.get_option("--all")->description("All inputs, unless channels are named, and every list in full");
  command
      .add_option("CHANNEL", call->channels,
                  "Points, addresses or tags of channels; if an input among them has no test,\n"
                  "or one that is refused, the exit status is 1")
      ->type_name("");
  command.add_flag("--csv", call->csv, "Print a sheet to be filled in")
      ->excludes(command.get_option("--json"));
  add_judging_options(command, *call);
  return [call] { return run_jumper(*call); };
}

}  // namespace ringtrue::cli
