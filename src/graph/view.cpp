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
  const auto arrive = [this](PointId a, PointId b, bool is_hard, ElementId e, std::uint32_t added) {
    arrivals_.push_back({a, is_hard, {e, added, b}});
  };
  for (const ElementChange& changed : overlay_->changes()) {
    if (!changed.on) continue;
    const bool is_hard = graph_->is_hard(changed.element);
    const auto is_drawn_end = [&](PointId p) {
      return p == graph_->end_a(changed.element) || p == graph_->end_b(changed.element);
    };
    if (!is_drawn_end(changed.a)) arrive(changed.a, changed.b, is_hard, changed.element, 0);
    if (!is_drawn_end(changed.b) && changed.b != changed.a)
      arrive(changed.b, changed.a, is_hard, changed.element, 0);
  }
  for (std::uint32_t i = 0; i < overlay_->added().size(); ++i) {
    const AddedElement& added = overlay_->added()[i];
    arrive(added.a, added.b, added.hard, ElementId::none, i);
    if (added.a != added.b) arrive(added.b, added.a, added.hard, ElementId::none, i);
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
  may_be_parted_.assign(touched_.size(), false);
  for (const ElementChange& change : overlay_->changes()) {
    const PointId a = graph_->end_a(change.element), b = graph_->end_b(change.element);
    const bool stands = change.on && ((change.a == a && change.b == b) || (change.a == b && change.b == a));
    if (graph_->is_hard(change.element) && graph_->is_on_at_rest(change.element) && !stands)
      may_be_parted_[place_of(graph_->net_at_rest(a))] = true;
  }
}

std::span<const ElementId> View::loads_of_net(NetId net_here) const {
  if (index(net_here) < graph_->net_count()) return graph_->loads_of_net(net_here);
  if (new_loads_.empty()) {
    new_loads_.resize(new_nets_);
    const auto add = [&](PointId p, ElementId load) {
      const NetId at = net(p);
      if (index(at) < graph_->net_count()) return;
      std::vector<ElementId>& loads = new_loads_[index(at) - graph_->net_count()];
      if (loads.empty() || loads.back() != load) loads.push_back(load);
    };
    for (const NetId rest : touched_)
      for (const ElementId load : graph_->loads_of_net(rest)) {
        // One between two touched nets is listed in both.
        const NetId a = graph_->net_at_rest(graph_->end_a(load)),
                    b = graph_->net_at_rest(graph_->end_b(load));
        if (rest != std::min(a, b) && is_touched(std::min(a, b))) continue;
        add(graph_->end_a(load), load);
        add(graph_->end_b(load), load);
      }
  }
  return new_loads_[index(net_here) - graph_->net_count()];
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

Ohms View::stated_ohms(ElementId e) const {
  const ElementChange* change = change_of(e);
  if (change == nullptr || !change->interval) return graph_->stated_ohms(e);
  return graph_->is_hard(e) ? change->interval->hi : Ohms{0};
}

const View::OhmsTogether& View::ohms_together() const {
  if (!ohms_together_) {
    OhmsTogether all{Ohms{0}, false};
    for (const NetId net : touched_) {
      all.stated.value += graph_->stated_ohms_of_net(net).value;
      all.has_least = all.has_least || graph_->net_has_least_ohms(net);
    }
    for (const ElementChange& change : overlay_->changes()) {
      if (!change.interval) continue;
      if (graph_->is_hard(change.element)) all.stated.value += change.interval->hi.value;
      all.has_least = all.has_least || change.interval->lo > Ohms{0};
    }
    ohms_together_ = all;
  }
  return *ohms_together_;
}

bool View::net_has_least_ohms(NetId net_here) const {
  return index(net_here) < graph_->net_count() ? graph_->net_has_least_ohms(net_here)
                                               : ohms_together().has_least;
}

Ohms View::stated_ohms_of_net(NetId net_here) const {
  return index(net_here) < graph_->net_count() ? graph_->stated_ohms_of_net(net_here)
                                               : ohms_together().stated;
}

}  // namespace ringtrue
