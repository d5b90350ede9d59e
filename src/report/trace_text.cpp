#include "element_words.hpp"
#include "path_words.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;
using report::padded;

class TraceText {
 public:
  TraceText(const ConductionGraph& graph, const TextSink& sink)
      : graph_(graph), potentials_(graph), sink_(sink) {}

  void write(std::size_t count, const TraceSource& traces) {
    heading(count);
    traces([this](const ChannelTrace& trace) {
      channel(trace);
      if (out_.size() >= k_part_bytes) pass_on();
    });
    pass_on();
  }

 private:
  void pass_on() {
    sink_(out_);
    out_.clear();
  }
  void heading(std::size_t channels);
  void channel(const ChannelTrace& trace);
  void path(PathRole role, const TracedPath& traced);
  void table(const TracedPath& traced);

  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }
  [[nodiscard]] std::string nouns(std::span<const ElementId> elements) const;

  const ConductionGraph& graph_;
  report::PotentialNames potentials_;
  const TextSink& sink_;
  static constexpr std::size_t k_part_bytes = 1 << 18;
  std::string out_;
};

std::string TraceText::nouns(std::span<const ElementId> elements) const {
  std::string text;
  for (const ElementId e : elements) text += (text.empty() ? "" : ", ") + element_noun(e, graph_);
  return text;
}

void TraceText::heading(std::size_t channels) {
  append_wrapped(out_, panel_label(graph_.netlist().panel) + ": " + report::counted(channels, "channel"), 0,
                 2);
}

void TraceText::channel(const ChannelTrace& trace) {
  const Channel& drawn = graph_.netlist().channels[trace.channel];
  std::string line = name(drawn.point) + "  " + std::string(word(drawn.type));
  for (const std::string_view text : {drawn.address, drawn.tag, drawn.text})
    if (!text.empty()) line.append("  ").append(text);
  out_ += '\n' + line + '\n';
  path(PathRole::signal, trace.signal);
  path(PathRole::way_back, trace.return_path);
  path(PathRole::common, trace.common);
  for (const std::string& shared : shared_net_words(trace, graph_)) append_wrapped(out_, shared, 2, 4);
}

void TraceText::path(PathRole role, const TracedPath& traced) {
  append_wrapped(
      out_, padded(std::string(word(role)) + ":", 8) + report::path_words(role, traced, graph_, potentials_),
      2, 10);
  table(traced);
  if (!traced.open_elements.empty())
    append_wrapped(out_, "conducts only once closed: " + nouns(traced.open_elements), 4, 6);
  if (!traced.opened_by_condition.empty())
    append_wrapped(out_, "opens when pulled, switched or operated: " + nouns(traced.opened_by_condition), 4,
                   6);
  for (const std::string& words : stop_words(traced, graph_)) append_wrapped(out_, words, 4, 6);
}

void TraceText::table(const TracedPath& traced) {
  std::vector<report::WalkRow> rows;
  for (std::size_t i = 0; i < traced.elements.size(); ++i) {
    const ElementId e = traced.elements[i];
    rows.push_back({name(traced.points[i]), element_noun(e, graph_), name(traced.points[i + 1]),
                    std::string(graph_.element_sheet(e)), ""});
  }
  report::append_walk(out_, 4, rows);
}

}  // namespace

void trace_text(const ConductionGraph& graph, std::size_t count, const TraceSource& traces,
                const TextSink& sink) {
  TraceText(graph, sink).write(count, traces);
}

std::string trace_text(const ConductionGraph& graph, std::span<const ChannelTrace> traces) {
  std::string text;
  const auto source = [traces](const ChannelTracer::Visit& visit) {
    for (const ChannelTrace& trace : traces) visit(trace);
  };
  trace_text(graph, traces.size(), source, [&](std::string_view part) { text += part; });
  return text;
}

}  // namespace ringtrue
