#include "path_words.hpp"

#include <algorithm>
#include <span>

namespace ringtrue {

namespace {

std::string names(std::span<const PointId> points, const ConductionGraph& graph) {
  constexpr std::size_t few = 8;
  std::string text;
  for (const PointId p : points.first(std::min(few, points.size())))
    text += (text.empty() ? "" : ", ") + graph.netlist().points.name(p);
  if (points.size() > few) text += " and " + std::to_string(points.size() - few) + " more";
  return text;
}

/// `field terminal X1:4.ext`, `+24V at G1:+`
std::string target_words(PathRole role, const TracedPath& path, const ConductionGraph& graph,
                         const report::PotentialNames& potentials) {
  const std::string point = graph.netlist().points.name(path.to);
  if (role == PathRole::signal)
    return (path.inferred ? "the only field terminal it reaches, " : "field terminal ") + point;
  const std::string_view potential = potentials.of(path.to);
  return potential.empty() ? point : std::string(potential) + " at " + point;
}

}  // namespace

std::string_view word(PathRole role) {
  switch (role) {
    case PathRole::signal:
      return "signal";
    case PathRole::way_back:
      return "return";
    case PathRole::common:
      return "common";
  }
  return {};
}

std::string report::path_words(PathRole role, const TracedPath& path, const ConductionGraph& graph,
                               const PotentialNames& potentials) {
  const auto from_to = [&] {
    return graph.netlist().points.name(path.from) + " to " + target_words(role, path, graph, potentials);
  };
  switch (path.verdict) {
    case PathVerdict::complete:
      return "complete, " + from_to();
    case PathVerdict::passes_open:
      return from_to() + ", not conducting at rest";
    case PathVerdict::stops:
      return "stops before " +
             (path.to == PointId::none ? "its target" : target_words(role, path, graph, potentials));
    case PathVerdict::no_target:
      return role == PathRole::signal ? "no field terminal: the drawing names none, and the channel reaches "
                                        "none; where it ends in the "
                                        "panel, at a coil say, that point is its field"
                                      : "nothing feeds it: no declared potential is reached";
    case PathVerdict::not_stated:
      return "not on the drawing";
  }
  return {};
}

std::string path_words(PathRole role, const TracedPath& path, const ConductionGraph& graph) {
  return report::path_words(role, path, graph, report::PotentialNames(graph));
}

std::vector<std::string> stop_words(const TracedPath& path, const ConductionGraph& graph) {
  if (path.verdict != PathVerdict::stops && path.verdict != PathVerdict::no_target) return {};
  std::vector<std::string> words;
  if (!path.stops_at.empty()) words.push_back("nothing leads on from " + names(path.stops_at, graph));
  if (!path.target_side.empty())
    words.push_back("the other side of the gap, nearest first: " + names(path.target_side, graph));
  return words;
}

std::vector<std::string> shared_net_words(const ChannelTrace& trace, const ConductionGraph& graph) {
  std::vector<std::string> words;
  for (const std::size_t other : trace.shares_net_with) {
    const Channel& channel = graph.netlist().channels[other];
    std::string shared = "Shares its net with " + graph.netlist().points.name(channel.point);
    if (!channel.tag.empty()) shared.append(" (").append(channel.tag).append(")");
    words.push_back(shared + ": the two cannot be told apart");
  }
  return words;
}

}  // namespace ringtrue
