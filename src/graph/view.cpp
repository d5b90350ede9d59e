#include "ringtrue/graph/view.hpp"

#include <algorithm>

namespace ringtrue {

View::View(const ConductionGraph& graph, const Overlay& overlay) : graph_(&graph), overlay_(&overlay) {
  if (overlay.empty()) return;
  for (const ElementChange& change : overlay.changes())
    mask_ |= std::uint64_t{1} << (index(change.element) & 63u);
  find_arrivals();
  find_touched();
  label_touched();
}

void View::find_arrivals() {
  for (const ElementChange& changed : overlay_->changes()) {
    if (!changed.on || !graph_->is_hard(changed.element)) continue;
    const auto is_drawn_end = [&](PointId p) {
      return p == graph_->end_a(changed.element) || p == graph_->end_b(changed.element);
    };
    if (!is_drawn_end(changed.a)) arrivals_.push_back({changed.a, {changed.element, 0, changed.b}});
    if (!is_drawn_end(changed.b) && changed.b != changed.a)
      arrivals_.push_back({changed.b, {changed.element, 0, changed.a}});
  }
  for (std::uint32_t i = 0; i < overlay_->added().size(); ++i) {
    const AddedElement& added = overlay_->added()[i];
    if (!added.hard) continue;
    arrivals_.push_back({added.a, {ElementId::none, i, added.b}});
    if (added.a != added.b) arrivals_.push_back({added.b, {ElementId::none, i, added.a}});
  }
  std::stable_sort(arrivals_.begin(), arrivals_.end(),
                   [](const Arrival& x, const Arrival& y) { return x.point < y.point; });
}

std::vector<View::Arrival>::const_iterator View::first_arrival(PointId p) const {
  return std::lower_bound(arrivals_.begin(), arrivals_.end(), p,
                          [](const Arrival& a, PointId point) { return a.point < point; });
}

void View::find_touched() {
  const auto touch = [this](PointId p) {
    if (index(p) < graph_->point_count()) touched_.push_back(graph_->net_at_rest(p));
  };
  for (const ElementChange& change : overlay_->changes()) {
    if (!graph_->is_hard(change.element)) continue;
    for (const PointId p : {graph_->end_a(change.element), graph_->end_b(change.element), change.a, change.b})
      touch(p);
  }
  for (const AddedElement& added : overlay_->added())
    if (added.hard) touch(added.a), touch(added.b);
  std::sort(touched_.begin(), touched_.end());
  touched_.erase(std::unique(touched_.begin(), touched_.end()), touched_.end());
}

/// Spreads a new label from every point of the touched nets that has none yet. A hard element that leads out
/// of the touched nets would itself have been touched, so the spreading stays inside them.
void View::label_touched() {
  std::uint32_t total = 0;
  for (const NetId net : touched_) {
    label_start_.push_back(total);
    total += static_cast<std::uint32_t>(graph_->points_of_net(net).size());
  }
  labels_.assign(total + overlay_->loose_points(), NetId::none);
  std::uint32_t next = graph_->net_count();
  std::vector<PointId> queue;
  const auto spread = [&](PointId start) {
    NetId& slot = labels_[label_index(start)];
    if (slot != NetId::none) return;
    const NetId label{next++};
    slot = label;
    queue.assign(1, start);
    while (!queue.empty()) {
      const PointId p = queue.back();
      queue.pop_back();
      for_each_hard(p, [&](const Edge& edge) {
        NetId& to = labels_[label_index(edge.to)];
        if (to != NetId::none) return;
        to = label;
        queue.push_back(edge.to);
      });
    }
  };
  for (const NetId net : touched_)
    for (const PointId p : graph_->points_of_net(net)) spread(p);
  for (std::uint32_t i = 0; i < overlay_->loose_points(); ++i) spread(PointId{graph_->point_count() + i});
}

std::size_t View::label_index(PointId p) const {
  if (index(p) >= graph_->point_count())
    return labels_.size() - overlay_->loose_points() + (index(p) - graph_->point_count());
  const auto at = std::lower_bound(touched_.begin(), touched_.end(), graph_->net_at_rest(p));
  return label_start_[static_cast<std::size_t>(at - touched_.begin())] + graph_->rank_in_net(p);
}

NetId View::net(PointId p) const {
  if (index(p) >= graph_->point_count()) return labels_[label_index(p)];
  const NetId rest = graph_->net_at_rest(p);
  return is_touched(rest) ? labels_[label_index(p)] : rest;
}

bool View::is_touched(NetId net_at_rest) const {
  return !touched_.empty() && std::binary_search(touched_.begin(), touched_.end(), net_at_rest);
}

bool View::is_on(ElementId e) const {
  const ElementChange* change = change_of(e);
  return change != nullptr ? change->on : graph_->is_on_at_rest(e);
}
PointId View::end_a(ElementId e) const {
  const ElementChange* change = change_of(e);
  return change != nullptr ? change->a : graph_->end_a(e);
}
PointId View::end_b(ElementId e) const {
  const ElementChange* change = change_of(e);
  return change != nullptr ? change->b : graph_->end_b(e);
}
OhmInterval View::interval(ElementId e) const {
  const ElementChange* change = change_of(e);
  return change != nullptr && change->interval ? *change->interval : graph_->interval(e);
}

}  // namespace ringtrue
