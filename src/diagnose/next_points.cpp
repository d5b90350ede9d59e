#include "next_points.hpp"

#include <algorithm>
#include <map>

namespace ringtrue {

namespace {

/// Ends of a shift that count; the rest of the run moves with them.
constexpr std::size_t k_most_ends = 8;
/// A piece of copper is searched this far for a terminal.
constexpr std::size_t k_near = 64;

void make_unique(std::vector<PointId>& points) {
  std::sort(points.begin(), points.end());
  points.erase(std::unique(points.begin(), points.end()), points.end());
}

bool is_terminal(PointId p, const ConductionGraph& graph) {
  return graph.netlist().points.side(p) != Side::single;
}

/// The nearest terminal on the copper of the point, by elements in between; else the point.
PointId nearest_terminal(PointId p, const View& view) {
  std::vector<PointId> seen = {p};
  for (std::size_t i = 0; i < seen.size() && i < k_near; ++i) {
    if (is_terminal(seen[i], view.graph())) return seen[i];
    view.for_each_hard(seen[i], [&](const View::Edge& edge) {
      if (std::find(seen.begin(), seen.end(), edge.to) == seen.end()) seen.push_back(edge.to);
    });
  }
  return p;
}

}  // namespace

std::vector<PointId> points_of(const Fault& fault, const ConductionGraph& graph,
                               const Comparison& comparison) {
  std::vector<PointId> points = {fault.p, fault.q};
  for (const ElementId e : elements_of(fault, graph))
    points.insert(points.end(), {graph.end_a(e), graph.end_b(e)});
  std::vector<LandedEnd> landed = landed_ends(fault, graph);
  if (landed.size() > k_most_ends) landed.resize(k_most_ends);
  for (const LandedEnd& end : landed) points.push_back(end.at);
  if (fault.kind == FaultKind::bad_reading) {
    const Probing& probing = comparison.probings[index(fault.reading)];
    points.insert(points.end(), {probing.from, probing.to});
  }
  std::erase_if(points, [&](PointId p) { return index(p) >= graph.point_count(); });
  make_unique(points);
  return points;
}

std::vector<ElementId> elements_of(const Fault& fault, const ConductionGraph& graph) {
  std::vector<ElementId> elements;
  for (const ElementId e : {fault.element, fault.element2})
    if (e != ElementId::none) elements.push_back(e);
  std::vector<LandedEnd> landed = landed_ends(fault, graph);
  if (landed.size() > k_most_ends) landed.resize(k_most_ends);
  for (const LandedEnd& end : landed)
    if (std::find(elements.begin(), elements.end(), end.conductor) == elements.end())
      elements.push_back(end.conductor);
  return elements;
}

std::vector<PointId> points_to_probe(const std::vector<PointId>& points,
                                     const std::vector<ElementId>& touched, const std::vector<Setup>& setups,
                                     const ConductionGraph& graph) {
  Overlay apart;
  for (const ElementId e : touched) apart.switch_off(graph, e);
  for (const Setup& setup : setups)
    for (const ElementChange& change : setup.made.overlay.changes()) apart.switch_off(graph, change.element);
  const View view(graph, apart);
  std::map<NetId, PointId> of_piece;
  for (const PointId p : points) {
    const auto [at, is_new] = of_piece.emplace(view.net(p), p);
    if (!is_new && is_terminal(p, graph) && !is_terminal(at->second, graph)) at->second = p;
  }
  std::vector<PointId> to_probe;
  for (const auto& [net, p] : of_piece) to_probe.push_back(nearest_terminal(p, view));
  make_unique(to_probe);
  return to_probe;
}

}  // namespace ringtrue
