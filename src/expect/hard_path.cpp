#include "ringtrue/expect/hard_path.hpp"

#include <algorithm>
#include <unordered_map>

namespace ringtrue {

namespace {

std::vector<PointId> starts(const View& view, PointId point, bool either_side) {
  std::vector<PointId> points{point};
  if (either_side) points.push_back(view.graph().netlist().points.other_side(point));
  return points;
}

}  // namespace

std::optional<HardPath> hard_path(const View& view, const Probing& reading) {
  struct Step {
    PointId before;
    View::Edge edge;
  };
  const std::vector<PointId> ends = starts(view, reading.to, reading.to_either_side);
  const auto is_end = [&](PointId p) { return std::find(ends.begin(), ends.end(), p) != ends.end(); };
  std::unordered_map<PointId, Step> reached;
  std::vector<PointId> queue = starts(view, reading.from, reading.from_either_side);
  for (const PointId p : queue) reached.emplace(p, Step{PointId::none, {}});
  for (std::size_t next = 0; next < queue.size(); ++next) {
    PointId p = queue[next];
    if (!is_end(p)) {
      view.for_each_hard(p, [&](const View::Edge& edge) {
        if (reached.emplace(edge.to, Step{p, edge}).second) queue.push_back(edge.to);
      });
      continue;
    }
    HardPath path;
    for (; p != PointId::none; p = reached.at(p).before) {
      path.points.push_back(p);
      if (reached.at(p).before != PointId::none) path.edges.push_back(reached.at(p).edge);
    }
    std::reverse(path.points.begin(), path.points.end());
    std::reverse(path.edges.begin(), path.edges.end());
    return path;
  }
  return std::nullopt;
}

}  // namespace ringtrue
