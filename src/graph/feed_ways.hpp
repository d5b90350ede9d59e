#pragma once
#include <span>
#include <vector>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// The shortest ways at rest from every point to the nearest of the points that feed the panel: one tree that
/// grows from all feeds at once, so that no channel has to search a common with hundreds of points anew.
/// Of equally short ways the one stands that the tree reached first, from feeds in order of their points and
/// on by elements in their order. Cost: linear in the nets of the feeds.
class FeedWays {
 public:
  FeedWays(const ConductionGraph& graph, std::vector<PointId> feeds);

  [[nodiscard]] bool has_feeds() const { return has_feeds_; }
  [[nodiscard]] bool is_feed(PointId p) const { return next_[index(p)] == k_arrived; }
  /// Some feed conducts to the point at rest.
  [[nodiscard]] bool reach(PointId p) const { return next_[index(p)] != ElementId::none; }
  /// Appends the way of a point that they reach.
  void follow(PointId from, TracedPath& path) const;

 private:
  static constexpr ElementId k_arrived{0xFFFFFFFEu};
  const ConductionGraph& graph_;
  bool has_feeds_;
  std::vector<ElementId> next_;  ///< by point: leads on; `k_arrived` at a feed, `none` where none is reached
};

}  // namespace ringtrue
