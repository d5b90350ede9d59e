#include "net_walk.hpp"

namespace ringtrue {

void NetWalk::begin(PointId from) {
  const std::size_t points = graph_.points_of_net(graph_.net_at_rest(from)).size();
  if (marks_.size() < points) marks_.resize(points);
  if (++walk_ == 0) {
    std::fill(marks_.begin(), marks_.end(), Mark{});
    walk_ = 1;
  }
  met_.assign(1, from);
  mark(from) = {walk_, PointId::none, ElementId::none};
}

void NetWalk::go_on_from(PointId p) {
  for (const ElementId e : graph_.elements_at(p)) {
    if (!graph_.is_hard(e) || !graph_.is_on_at_rest(e)) continue;
    const PointId to = graph_.other_end(e, p);
    if (mark(to).walk == walk_) continue;
    mark(to) = {walk_, p, e};
    met_.push_back(to);
  }
}

std::span<const PointId> NetWalk::in_order(PointId from) {
  begin(from);
  for (std::size_t at = 0; at < met_.size(); ++at) go_on_from(met_[at]);
  return met_;
}

}  // namespace ringtrue
