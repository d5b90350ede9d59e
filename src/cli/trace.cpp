#include <algorithm>
#include <memory>

#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct TraceOptions : CommonOptions {
  std::vector<std::string> channels;
};

/// The channels asked for, each once and in the order asked.
Result<std::vector<std::size_t>> chosen_channels(const Netlist& netlist,
                                                 const std::vector<std::string>& typed) {
  std::vector<std::size_t> chosen;
  Errors errors;
  for (const std::string& name : typed) {
    const auto found = find_channels(netlist, name);
    if (!found) {
      errors.insert(errors.end(), found.error().begin(), found.error().end());
      continue;
    }
    for (const std::size_t channel : *found)
      if (std::find(chosen.begin(), chosen.end(), channel) == chosen.end()) chosen.push_back(channel);
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return chosen;
}

ExitStatus run_trace(const TraceOptions& options) {
  const auto panel = panel_of({options.netlist, std::nullopt});
  if (!panel) return refuse(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  const auto channels = chosen_channels(panel->netlist, options.channels);
  if (!channels) return refuse(channels.error());
  if (panel->netlist.channels.empty()) say("the netlist lists no channels, so there is nothing to trace");

  const ConductionGraph graph(panel->netlist);
  std::vector<ChannelTrace> traces;
  for (const std::size_t channel : *channels) traces.push_back(trace_channel(graph, channel));
  if (options.channels.empty()) traces = trace_channels(graph);
  const bool is_good =
      std::all_of(traces.begin(), traces.end(), [](const ChannelTrace& t) { return t.is_complete(); });
  return write_result(options.json ? trace_json(graph, traces) : trace_text(graph, traces),
                      is_good ? ExitStatus::good : ExitStatus::findings);
}

}  // namespace

Run declare_trace(CLI::App& command) {
  const auto options = std::make_shared<TraceOptions>();
  add_common_options(command, *options);
  command
      .add_option("CHANNEL", options->channels,
                  "Point, address or tag of a channel; all channels if none is named")
      ->type_name("");
  return [options] { return run_trace(*options); };
}

}  // namespace ringtrue::cli
