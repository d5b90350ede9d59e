#include "resting.hpp"

#include <algorithm>
#include <cmath>

#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/hard_path.hpp"

namespace ringtrue {

namespace {

/// Ways between two nets that are looked at for what lies on each of them.
constexpr std::size_t k_most_ways = 16;

/// The same sum taken in another order.
bool is_same(Ohms x, Ohms y) {
  if (std::isinf(x.value) || std::isinf(y.value)) return x.value == y.value;
  return std::abs(x.value - y.value) <= 1e-9 * std::max({x.value, y.value, 1e-3});
}

}  // namespace

bool is_same(const Resting::Prediction& x, const Resting::Prediction& y) {
  return x.is_one_net == y.is_one_net && x.beep == y.beep && x.open == y.open && x.own == y.own &&
         is_same(x.ohms.lo, y.ohms.lo) && is_same(x.ohms.hi, y.ohms.hi);
}

Resting::Resting(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                 const std::vector<std::uint8_t>& touched)
    : graph_(graph), readings_(readings), comparison_(comparison), touched_(touched) {
  for (std::uint32_t e = 0; e < graph.element_count(); ++e)
    if (touched[index(graph.end_a(ElementId{e}))] != 0 || touched[index(graph.end_b(ElementId{e}))] != 0)
      on_touched_.push_back(ElementId{e});
  views_.reserve(comparison.conditions.overlays.size());
  for (const ConditionOverlay& condition : comparison.conditions.overlays)
    views_.emplace_back(graph, condition.overlay);
  without_.resize(views_.size());
  points_of_net_.resize(views_.size());
}

bool Resting::rests_on_nets(std::uint32_t reading) const {
  const Probing& probe = probing(reading);
  if (probe.value.kind == ValueKind::ohms && probe.method != Method::insulation) return false;
  return probe.value.kind != ValueKind::beep || view(reading).net(probe.from) != view(reading).net(probe.to);
}

std::vector<PointId> Resting::points_on_nets(std::uint32_t reading) const {
  const Probing& probe = probing(reading);
  const View& seen = view(reading);
  std::vector<NetId> nets{seen.net(probe.from), seen.net(probe.to)};
  const auto add_other_side = [&](PointId p, bool either_side) {
    if (either_side) nets.push_back(seen.net(graph_.netlist().points.other_side(p)));
  };
  add_other_side(probe.from, probe.from_either_side), add_other_side(probe.to, probe.to_either_side);
  auto& points_of_net = points_of_net_[readings_.rows[reading].condition];
  if (points_of_net.empty())
    for (const NetId at_rest : seen.touched_nets())
      for (const PointId p : graph_.points_of_net(at_rest)) points_of_net[seen.net(p)].push_back(p);
  std::sort(nets.begin(), nets.end());
  nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
  std::vector<PointId> points;
  for (const NetId net : nets) {
    if (index(net) < graph_.net_count() && !seen.is_touched(net)) {
      const auto at_rest = graph_.points_of_net(net);
      points.insert(points.end(), at_rest.begin(), at_rest.end());
    } else if (const auto found = points_of_net.find(net); found != points_of_net.end()) {
      points.insert(points.end(), found->second.begin(), found->second.end());
    }
  }
  std::sort(points.begin(), points.end());
  return points;
}

PointId Resting::touched_on_nets(std::uint32_t reading) const {
  for (const PointId p : points_on_nets(reading))
    if (touched_[index(p)] != 0) return p;
  return PointId::none;
}

Resting::Prediction Resting::predicted(const View& seen, std::uint32_t reading) const {
  const MeterSettings& meter = comparison_.meters.of(ReadingId{reading});
  Probing probe = probing(reading);
  Prediction made;
  made.is_one_net = seen.net(probe.from) == seen.net(probe.to);
  made.own = judge(seen, probe, meter);
  if (probe.value.kind == ValueKind::ohms) {
    made.ohms = expected_resistance(seen, probe);
    return made;
  }
  probe.value = {ValueKind::beep, 0};
  made.beep = judge(seen, probe, meter);
  probe.value = {ValueKind::open, 0};
  made.open = judge(seen, probe, meter);
  return made;
}

Resting::Prediction Resting::prediction(std::uint32_t reading) const {
  return predicted(view(reading), reading);
}

Resting::Prediction Resting::prediction_without_touched(std::uint32_t reading) const {
  std::unique_ptr<Without>& without = without_[readings_.rows[reading].condition];
  if (!without) {
    Overlay overlay = condition(reading).overlay;
    for (const ElementId e : on_touched_) overlay.switch_off(graph_, e);
    without = std::make_unique<Without>(graph_, std::move(overlay));
  }
  return predicted(without->view, reading);
}

PointId Resting::touched_on_way(std::uint32_t reading) const {
  const auto touched_of = [&](const std::vector<PointId>& points) {
    const auto found = std::find_if(points.begin(), points.end(), [&](PointId p) {
      return index(p) < graph_.point_count() && touched_[index(p)] != 0;
    });
    return found == points.end() ? PointId::none : *found;
  };
  if (const auto path = hard_path(view(reading), probing(reading))) return touched_of(path->points);
  for (const Way& way : ways_between(view(reading), probing(reading), k_most_ways))
    if (const PointId p = touched_of(way.points); p != PointId::none) return p;
  return PointId::none;
}

std::vector<ElementId> Resting::candidates(std::uint32_t reading) const {
  const View& seen = view(reading);
  const Probing& probe = probing(reading);
  std::vector<ElementId> all;
  const auto add = [&](const std::vector<View::Edge>& edges) {
    for (const View::Edge& edge : edges)
      if (edge.element != ElementId::none) all.push_back(edge.element);
  };
  if (const auto path = hard_path(seen, probe))
    add(path->edges);
  else if (probe.value.kind == ValueKind::ohms || probe.value.kind == ValueKind::beep)
    for (const Way& way : ways_between(seen, probe, k_most_ways)) add(way.edges);
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

std::vector<ElementId> Resting::proven_by(std::uint32_t reading) const {
  const ValueKind kind = probing(reading).value.kind;
  if ((kind != ValueKind::beep && kind != ValueKind::ohms) ||
      judge(view(reading), probing(reading), comparison_.meters.of(ReadingId{reading})) != Verdict::agrees)
    return {};
  std::vector<ElementId> proven = candidates(reading);
  std::erase_if(proven, [&](ElementId e) {
    Overlay without = condition(reading).overlay;
    without.switch_off(graph_, e);
    return judge(View(graph_, without), probing(reading), comparison_.meters.of(ReadingId{reading})) !=
           Verdict::disagrees;
  });
  return proven;
}

}  // namespace ringtrue
