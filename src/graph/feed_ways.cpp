#include "feed_ways.hpp"

#include <algorithm>

namespace ringtrue {

FeedWays::FeedWays(const ConductionGraph& graph, std::vector<PointId> feeds)
    : graph_(graph), has_feeds_(!feeds.empty()), next_(graph.point_count(), ElementId::none) {
  std::sort(feeds.begin(), feeds.end());
  feeds.erase(std::unique(feeds.begin(), feeds.end()), feeds.end());
  for (const PointId feed : feeds) next_[index(feed)] = k_arrived;
  std::vector<PointId> queue = std::move(feeds);
  for (std::size_t at = 0; at < queue.size(); ++at)
    for (const ElementId e : graph.elements_at(queue[at])) {
      if (!graph.is_hard(e) || !graph.is_on_at_rest(e)) continue;
      const PointId to = graph.other_end(e, queue[at]);
      if (reach(to)) continue;
      next_[index(to)] = e;
      queue.push_back(to);
    }
}

void FeedWays::follow(PointId from, TracedPath& path) const {
  PointId p = from;
  for (; !is_feed(p); p = graph_.other_end(path.elements.back(), p)) {
    path.points.push_back(p);
    path.elements.push_back(next_[index(p)]);
  }
  path.points.push_back(p);
}

}  // namespace ringtrue
