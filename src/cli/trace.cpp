#include <algorithm>
#include <memory>
#include <optional>

#include "diagnosing.hpp"
#include "messages.hpp"
#include "options.hpp"
#include "output.hpp"
#include "panel.hpp"
#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/graph/rows.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/picture/path_picture.hpp"
#include "ringtrue/picture/readings_map.hpp"
#include "ringtrue/picture/strip_picture.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "ringtrue/write/whole_file.hpp"
#include "verbs.hpp"

namespace ringtrue::cli {

namespace {

struct TraceOptions : CommonOptions {
  std::vector<std::string> names;
  std::optional<std::string> svg;
  bool force = false;
};

/// The panel; with what its readings say if a picture is to show it and a job holds them.
Result<std::unique_ptr<Diagnosed>> panel_to_trace(const TraceOptions& options) {
  if (options.svg && is_job_name(options.netlist)) {
    DiagnosingOptions diagnosing;
    static_cast<CommonOptions&>(diagnosing) = options;
    return diagnose_readings(diagnosing);
  }
  auto panel = panel_of({options.netlist, std::nullopt});
  if (!panel) return tl::unexpected(panel.error());
  say_notes(panel->netlist.notes, options.detail());
  return std::make_unique<Diagnosed>(std::move(*panel), Settings{}, options.threads);
}

/// What the names stand for: channels, or a strip with the channels over it. The traces of all channels are
/// made when they are written: a plant's would take hundreds of megabytes.
struct Traced {
  std::vector<ChannelTrace> traces;
  std::optional<TerminalStrip> strip;  ///< what a picture of one name shows, if it is no channel
};

Result<Traced> strip_to_trace(const ConductionGraph& graph, const std::string& name,
                              const Error& no_channel) {
  auto strip = find_strip(name, graph.netlist());
  if (!strip) {
    NearestNames nearest(name);
    for (const Error& error : {no_channel, strip.error().front()})
      for (const std::string& near : error.nearest) nearest.offer(near);
    return fail({ErrorCode::unknown_object,
                 "the drawing has no such channel or terminal strip",
                 {},
                 name,
                 "a channel's point, address or tag, or the name of a strip",
                 nearest.take()});
  }
  Traced made{{}, std::move(*strip)};
  const PointTable& points = graph.netlist().points;
  const auto leads_over = [&](const TracedPath& path) {
    return std::any_of(path.points.begin(), path.points.end(), [&](PointId point) {
      return points.has_sides(points.place(point)) && part_name(graph, point) == made.strip->name;
    });
  };
  ChannelTracer(graph).trace(0, graph.netlist().channels.size(), [&](const ChannelTrace& trace) {
    if (leads_over(trace.signal) || leads_over(trace.return_path) || leads_over(trace.common))
      made.traces.push_back(trace);
  });
  if (made.traces.empty()) say("no channel's path leads over the strip " + std::string(made.strip->name));
  return made;
}

Result<Traced> named_to_trace(const ConductionGraph& graph, const std::string& name) {
  const auto channels = find_channels(graph.netlist(), name);
  if (!channels) return strip_to_trace(graph, name, channels.error().front());
  Traced made;
  for (const std::size_t channel : *channels) made.traces.push_back(trace_channel(graph, channel));
  return made;
}

tl::unexpected<Errors> not_one_picture(const TraceOptions& options, std::size_t count,
                                       std::string_view noun) {
  return fail({ErrorCode::bad_call,
               "a picture shows one channel, one strip or the whole panel",
               {*options.svg, 0, "", ""},
               std::to_string(count) + std::string(noun),
               "the name of one, or none",
               {}});
}

Result<Traced> what_to_trace(const ConductionGraph& graph, const TraceOptions& options) {
  if (options.names.empty()) return Traced{};
  if (options.svg && options.names.size() > 1)
    return not_one_picture(options, options.names.size(), " names");
  Traced made;
  Errors errors;
  for (const std::string& name : options.names) {
    auto named = named_to_trace(graph, name);
    if (!named) {
      errors.insert(errors.end(), named.error().begin(), named.error().end());
      continue;
    }
    for (ChannelTrace& trace : named->traces)
      if (std::none_of(made.traces.begin(), made.traces.end(),
                       [&](const ChannelTrace& other) { return other.channel == trace.channel; }))
        made.traces.push_back(std::move(trace));
    made.strip = std::move(named->strip);
  }
  if (!errors.empty()) return tl::unexpected(std::move(errors));
  return made;
}

Result<std::string> picture_of(const TraceOptions& options, const Diagnosed& panel, const Traced& traced) {
  const Findings* findings = is_job_name(options.netlist) ? &panel.findings : nullptr;
  if (options.names.empty()) return readings_maps({panel.graph, findings}).front();
  if (traced.strip) return strip_pictures({panel.graph, *traced.strip, findings}).front();
  if (traced.traces.size() == 1) return path_picture({panel.graph, traced.traces.front(), findings});
  return not_one_picture(options, traced.traces.size(), " channels");
}

Result<void> write_picture(const TraceOptions& options, const Diagnosed& panel, const Traced& traced) {
  if (options.svg->empty())
    return fail({ErrorCode::bad_call, "--svg names no file", {}, "", "the name of the picture to write", {}});
  const auto picture = picture_of(options, panel, traced);
  if (!picture) return tl::unexpected(picture.error());
  return write::write_whole(*options.svg, {}, options.force ? Existing::replace : Existing::refuse,
                            [&](const std::filesystem::path& made) {
                              write::OutputFile file(made);
                              file.put(*picture);
                              return file.finish();
                            });
}

ExitStatus write_traces(const TraceOptions& options, const ConductionGraph& graph, const Traced& traced) {
  const bool all = options.names.empty();
  const std::size_t count = all ? graph.netlist().channels.size() : traced.traces.size();
  bool is_good = true;
  const auto source = [&](const ChannelTracer::Visit& visit) {
    const auto look_at = [&](const ChannelTrace& trace) {
      is_good = is_good && trace.is_complete();
      visit(trace);
    };
    if (all)
      ChannelTracer(graph).trace(0, count, look_at);
    else
      std::for_each(traced.traces.begin(), traced.traces.end(), look_at);
  };
  ResultStream result;
  const auto sink = [&](std::string_view part) { result.put(part); };
  if (options.json)
    trace_json(graph, source, sink);
  else
    trace_text(graph, count, source, sink);
  return result.finish(is_good ? ExitStatus::good : ExitStatus::findings);
}

ExitStatus run_trace(const TraceOptions& options) {
  const auto made = panel_to_trace(options);
  if (!made) return refuse(made.error());
  const ConductionGraph& graph = (*made)->graph;
  const auto traced = what_to_trace(graph, options);
  if (!traced) return refuse(traced.error());
  if (graph.netlist().channels.empty() && !options.svg)
    say("the netlist lists no channels, so there is nothing to trace");
  if (options.svg) {
    if (const auto written = write_picture(options, **made, *traced); !written)
      return refuse(written.error());
    say(*options.svg + " written");
  }
  return write_traces(options, graph, *traced);
}

}  // namespace

Run declare_trace(CLI::App& command) {
  const auto options = std::make_shared<TraceOptions>();
  add_common_options(command, *options);
  command
      .add_option("CHANNEL", options->names,
                  "Point, address or tag of a channel; all channels if none is named. Also a\n"
                  "terminal strip, as X3, or a point on one: then the channels over the strip")
      ->type_name("");
  CLI::Option* const svg =
      command
          .add_option("--svg", options->svg,
                      "Draw a picture as an SVG file: the path of the channel, the landings of the\n"
                      "strip, or without a name the map of the panel; with a job, also what its\n"
                      "readings prove and find")
          ->option_text("FILE");
  command.add_flag("--force", options->force, "Replace what stands at FILE")
      ->needs(svg)
      ->option_text("(with --svg)");
  return [options] { return run_trace(*options); };
}

}  // namespace ringtrue::cli
