// What conducts at rest in a graph, as a Boost.Graph graph: the floor of whatever goes through all copper
// once.
#pragma once
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/connected_components.hpp>
#include <utility>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace bench {

using CopperFloor = boost::adjacency_list<boost::vecS, boost::vecS, boost::undirectedS>;

inline CopperFloor copper_floor(const ringtrue::ConductionGraph& graph) {
  std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
  for (std::uint32_t i = 0; i < graph.element_count(); ++i)
    if (const ringtrue::ElementId e{i}; graph.is_hard(e) && graph.is_on_at_rest(e))
      edges.emplace_back(index(graph.end_a(e)), index(graph.end_b(e)));
  return {edges.begin(), edges.end(), graph.point_count()};
}

// `label` is as long as there are points.
inline int components(const CopperFloor& copper, std::vector<int>& label) {
  return boost::connected_components(copper, label.data());
}

}  // namespace bench
