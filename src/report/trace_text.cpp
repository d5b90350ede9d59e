#include <algorithm>

#include "element_words.hpp"
#include "potentials.hpp"
#include "ringtrue/report/trace_report.hpp"
#include "ringtrue/report/words.hpp"
#include "text_layout.hpp"

namespace ringtrue {

namespace {

using report::append_wrapped;
using report::padded;

/// Which of a channel's three paths; it decides how ends are called.
enum class PathRole { signal, way_back, common };

class TraceText {
 public:
  explicit TraceText(const ConductionGraph& graph) : graph_(graph), potentials_(graph) {}

  [[nodiscard]] std::string write(std::span<const ChannelTrace> traces) {
    heading(traces.size());
    for (const ChannelTrace& trace : traces) channel(trace);
    return std::move(out_);
  }

 private:
  void heading(std::size_t channels);
  void channel(const ChannelTrace& trace);
  void path(PathRole role, const TracedPath& traced);
  void table(const TracedPath& traced);
  void stop(const TracedPath& traced);

  [[nodiscard]] std::string verdict(PathRole role, const TracedPath& traced) const;
  [[nodiscard]] std::string target(PathRole role, const TracedPath& traced) const;
  [[nodiscard]] std::string name(PointId p) const { return graph_.netlist().points.name(p); }
  [[nodiscard]] std::string names(std::span<const PointId> points) const;
  [[nodiscard]] std::string nouns(std::span<const ElementId> elements) const;

  const ConductionGraph& graph_;
  report::PotentialNames potentials_;
  std::string out_;
};

std::string TraceText::names(std::span<const PointId> points) const {
  constexpr std::size_t few = 8;
  std::string text;
  for (const PointId p : points.first(std::min(few, points.size())))
    text += (text.empty() ? "" : ", ") + name(p);
  if (points.size() > few) text += " and " + std::to_string(points.size() - few) + " more";
  return text;
}

std::string TraceText::nouns(std::span<const ElementId> elements) const {
  std::string text;
  for (const ElementId e : elements) text += (text.empty() ? "" : ", ") + element_noun(e, graph_);
  return text;
}

void TraceText::heading(std::size_t channels) {
  append_wrapped(
      out_, report::panel_label(graph_.netlist().panel) + ": " + report::counted(channels, "channel"), 0, 2);
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
  for (const std::size_t other : trace.shares_net_with) {
    const Channel& channel = graph_.netlist().channels[other];
    std::string shared = "Shares its net with " + name(channel.point);
    if (!channel.tag.empty()) shared.append(" (").append(channel.tag).append(")");
    append_wrapped(out_, shared + ": the two cannot be told apart", 2, 4);
  }
}

/// `field terminal X1:4.ext`, `+24V at G1:+`
std::string TraceText::target(PathRole role, const TracedPath& traced) const {
  const std::string point = name(traced.to);
  if (role == PathRole::signal)
    return (traced.inferred ? "the only field terminal it reaches, " : "field terminal ") + point;
  const std::string_view potential = potentials_.of(traced.to);
  return potential.empty() ? point : std::string(potential) + " at " + point;
}

std::string TraceText::verdict(PathRole role, const TracedPath& traced) const {
  switch (traced.verdict) {
    case PathVerdict::complete:
      return "complete, " + name(traced.from) + " to " + target(role, traced);
    case PathVerdict::passes_open:
      return name(traced.from) + " to " + target(role, traced) + ", not conducting at rest";
    case PathVerdict::stops:
      return "stops before " + (traced.to == PointId::none ? "its target" : target(role, traced));
    case PathVerdict::no_target:
      return role == PathRole::signal
                 ? "no field terminal: the drawing names none, and the channel reaches none"
                 : "nothing feeds it: no declared potential is reached";
    case PathVerdict::not_stated:
      return "not on the drawing";
  }
  return {};
}

void TraceText::path(PathRole role, const TracedPath& traced) {
  const std::string_view label = role == PathRole::signal     ? "signal"
                                 : role == PathRole::way_back ? "return"
                                                              : "common";
  append_wrapped(out_, padded(std::string(label) + ":", 8) + verdict(role, traced), 2, 10);
  table(traced);
  if (!traced.open_elements.empty())
    append_wrapped(out_, "conducts only once closed: " + nouns(traced.open_elements), 4, 6);
  if (!traced.opened_by_condition.empty())
    append_wrapped(out_, "opens when pulled, switched or operated: " + nouns(traced.opened_by_condition), 4,
                   6);
  if (traced.verdict == PathVerdict::stops || traced.verdict == PathVerdict::no_target) stop(traced);
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

void TraceText::stop(const TracedPath& traced) {
  if (!traced.stops_at.empty()) append_wrapped(out_, "nothing leads on from " + names(traced.stops_at), 4, 6);
  if (!traced.target_side.empty())
    append_wrapped(out_, "the other side of the gap, nearest first: " + names(traced.target_side), 4, 6);
}

}  // namespace

std::string trace_text(const ConductionGraph& graph, std::span<const ChannelTrace> traces) {
  return TraceText(graph).write(traces);
}

}  // namespace ringtrue
