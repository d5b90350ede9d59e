#include "json_writer.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "trace_verdict.hpp"

// The keys and their meaning stand in netlists/schema/trace.schema.json; a test validates this output against
// it.

namespace ringtrue {

namespace {

using report::JsonWriter;

class TraceJson {
 public:
  TraceJson(const ConductionGraph& graph, const TextSink& sink) : graph_(graph), json_(sink) {}

  void write(const TraceSource& traces) {
    json_.begin_object();
    json_.key("panel")
        .text(graph_.netlist().panel.name)
        .key("revision")
        .text(graph_.netlist().panel.revision);
    json_.key("channels").begin_array();
    traces([this](const ChannelTrace& trace) { channel(trace); });
    json_.end_array().end_object().finish();
  }

 private:
  void channel(const ChannelTrace& trace) {
    const Channel& drawn = graph_.netlist().channels[trace.channel];
    json_.begin_object().key("point").text(name(drawn.point)).key("address").text(drawn.address);
    json_.key("tag").text(drawn.tag).key("type").text(word(drawn.type));
    json_.key("verdict").text(report::channel_verdict(trace));
    json_.key("shares_net_with").begin_array();
    for (const std::size_t other : trace.shares_net_with)
      json_.text(name(graph_.netlist().channels[other].point));
    json_.end_array();
    path("signal", trace.signal);
    path("return", trace.return_path);
    path("common", trace.common);
    json_.end_object();
  }

  void path(std::string_view key, const TracedPath& traced) {
    json_.key(key).begin_object().key("verdict").text(word(traced.verdict));
    json_.key("from");
    point(traced.from);
    json_.key("to");
    point(traced.to);
    json_.key("inferred").boolean(traced.inferred);
    points("points", traced.points);
    json_.key("elements").begin_array();
    for (std::size_t i = 0; i < traced.elements.size(); ++i) element(traced, i);
    json_.end_array();
    elements("open_elements", traced.open_elements);
    elements("opened_by_condition", traced.opened_by_condition);
    points("stops_at", traced.stops_at);
    points("target_side", traced.target_side);
    json_.end_object();
  }

  void element(const TracedPath& traced, std::size_t i) {
    json_.begin_object().key("name").text(graph_.element_name(traced.elements[i]));
    json_.key("kind").text(graph_.element_kind_word(traced.elements[i]));
    json_.key("from").text(name(traced.points[i])).key("to").text(name(traced.points[i + 1]));
    json_.key("sheet").text(graph_.element_sheet(traced.elements[i])).end_object();
  }

  void point(PointId p) {
    if (p == PointId::none)
      json_.null();
    else
      json_.text(name(p));
  }

  void points(std::string_view key, std::span<const PointId> list) {
    json_.key(key).begin_array();
    for (const PointId p : list) json_.text(name(p));
    json_.end_array();
  }

  void elements(std::string_view key, std::span<const ElementId> list) {
    json_.key(key).begin_array();
    for (const ElementId e : list) json_.text(graph_.element_name(e));
    json_.end_array();
  }

  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }

  const ConductionGraph& graph_;
  JsonWriter json_;
};

}  // namespace

void trace_json(const ConductionGraph& graph, const TraceSource& traces, const TextSink& sink) {
  TraceJson(graph, sink).write(traces);
}

std::string trace_json(const ConductionGraph& graph, std::span<const ChannelTrace> traces) {
  std::string text;
  const auto source = [traces](const ChannelTracer::Visit& visit) {
    for (const ChannelTrace& trace : traces) visit(trace);
  };
  trace_json(graph, source, [&](std::string_view part) { text += part; });
  return text;
}

}  // namespace ringtrue
