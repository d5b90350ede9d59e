#include <algorithm>
#include <memory>

#include "channel_arguments.hpp"
#include "diagnosing.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/picture/path_picture.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct TraceOptions : CommonOptions {
  std::vector<std::string> channels;
  std::string picture;
  bool force = false;
};

/// The panel; with what its readings say if a picture is to show it and a job holds them.
Result<std::unique_ptr<Diagnosed>> panel_to_trace(const TraceOptions& options) {
  if (!options.picture.empty() && is_job_name(options.netlist)) {
    DiagnosingOptions diagnosing;
    static_cast<CommonOptions&>(diagnosing) = options;
    return diagnose_readings(diagnosing);
  }
  auto panel = panel_of({options.netlist, std::nullopt});
  if (!panel) return tl::unexpected(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  return std::make_unique<Diagnosed>(std::move(*panel), Settings{});
}

Result<void> write_picture(const TraceOptions& options, const Diagnosed& panel,
                           const std::vector<ChannelTrace>& traces) {
  if (traces.size() != 1)
    return fail({ErrorCode::bad_call,
                 "a picture shows one channel",
                 {options.picture, 0, "", ""},
                 std::to_string(traces.size()) + " channels",
                 "the point, address or tag of one",
                 {}});
  const Findings* findings = is_job_name(options.netlist) ? &panel.findings : nullptr;
  const std::string picture = path_picture({panel.graph, traces.front(), findings});
  return write::write_whole(options.picture, {}, options.force ? Existing::replace : Existing::refuse,
                            [&](const std::filesystem::path& made) {
                              write::OutputFile file(made);
                              file.put(picture);
                              return file.finish();
                            });
}

ExitStatus run_trace(const TraceOptions& options) {
  const auto made = panel_to_trace(options);
  if (!made) return refuse(made.error());
  const ConductionGraph& graph = (*made)->graph;
  const auto channels = chosen_channels(graph.netlist(), options.channels);
  if (!channels) return refuse(channels.error());
  if (graph.netlist().channels.empty()) say("the netlist lists no channels, so there is nothing to trace");

  std::vector<ChannelTrace> traces;
  for (const std::size_t channel : *channels) traces.push_back(trace_channel(graph, channel));
  if (options.channels.empty()) traces = trace_channels(graph);
  if (!options.picture.empty())
    if (const auto written = write_picture(options, **made, traces); !written) return refuse(written.error());
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
  CLI::Option* const picture =
      command
          .add_option("--picture", options->picture,
                      "Draw the path of one channel as an SVG file; with a job, also what its\n"
                      "readings prove and find")
          ->option_text("FILE");
  command.add_flag("--force", options->force, "Replace what stands at FILE")
      ->needs(picture)
      ->option_text("(with --picture)");
  return [options] { return run_trace(*options); };
}

}  // namespace ringtrue::cli
