#pragma once
#include <algorithm>
#include <span>
#include <vector>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// Lays a way out in a path, from its end backwards: `step_of` says by which element which point led to one.
template <class StepOf>
void lay_out(TracedPath& path, PointId last, StepOf&& step_of) {
  path.points.clear();
  path.elements.clear();
  for (PointId p = last; p != PointId::none;) {
    path.points.push_back(p);
    const auto [before, by] = step_of(p);
    if (before != PointId::none) path.elements.push_back(by);
    p = before;
  }
  std::reverse(path.points.begin(), path.points.end());
  std::reverse(path.elements.begin(), path.elements.end());
}

/// Walks among the points that conduct to each other at rest: breadth first inside one net. It keeps its
/// marks from walk to walk, by place in the net, so that a walk costs no more than it sees. For one thread.
class NetWalk {
 public:
  explicit NetWalk(const ConductionGraph& graph) : graph_(graph) {}

  /// The way with the fewest elements to the nearest point that is a target; ties by point. False, with the
  /// path as it was, if there is none.
  template <class IsTarget>
  bool find(PointId from, IsTarget&& is_target, TracedPath& path);
  /// Points joined to `from`, in the order in which they are met. Good until the next walk.
  [[nodiscard]] std::span<const PointId> in_order(PointId from);

 private:
  struct Mark {
    std::uint32_t walk = 0;  ///< that it was met in
    PointId before;
    ElementId by;
  };
  void begin(PointId from);
  [[nodiscard]] Mark& mark(PointId p) { return marks_[graph_.rank_in_net(p)]; }
  /// Appends to `met_` the points next to `p` that this walk has not met.
  void go_on_from(PointId p);

  const ConductionGraph& graph_;
  std::uint32_t walk_ = 0;
  std::vector<Mark> marks_;  ///< by rank in the net
  std::vector<PointId> met_;
};

template <class IsTarget>
bool NetWalk::find(PointId from, IsTarget&& is_target, TracedPath& path) {
  begin(from);
  for (std::size_t level = 0; level < met_.size();) {
    const std::size_t next = met_.size();
    std::sort(met_.begin() + static_cast<std::ptrdiff_t>(level), met_.end());
    for (; level < next; ++level) {
      if (const PointId p = met_[level]; is_target(p)) {
        lay_out(path, p, [&](PointId at) { return std::pair{mark(at).before, mark(at).by}; });
        return true;
      }
      go_on_from(met_[level]);
    }
  }
  return false;
}

}  // namespace ringtrue
