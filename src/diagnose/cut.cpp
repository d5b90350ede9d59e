#include "cut.hpp"

#include <algorithm>

#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

namespace {

/// Values this close to the limit count as on it; far above what the solver leaves open.
constexpr double k_on_the_limit = 1 + 1e-8;

/// Calls `visit(load, far net)` for each load present under the view that leads out of the net.
template <class Visit>
void for_each_load_out(const View& view, NetId net, Visit&& visit) {
  for (const ElementId e : view.loads_of_net(net)) {
    const NetId a = view.net(view.graph().end_a(e)), b = view.net(view.graph().end_b(e));
    if (a != b && view.is_on(e)) visit(e, a == net ? b : a);
  }
}

}  // namespace

std::vector<NetId> nets_under(const View& view, const Probing& reading, PointId Probing::*lead) {
  const bool either_side = lead == &Probing::from ? reading.from_either_side : reading.to_either_side;
  std::vector<NetId> nets{view.net(reading.*lead)};
  if (either_side) {
    const NetId other = view.net(view.graph().netlist().points.other_side(reading.*lead));
    if (other != nets.front()) nets.push_back(other);
  }
  return nets;
}

std::vector<PointId> points_of(const View& view, const std::unordered_set<NetId>& nets) {
  const ConductionGraph& graph = view.graph();
  std::vector<PointId> points;
  for (const NetId net : nets)
    if (index(net) < graph.net_count())
      points.insert(points.end(), graph.points_of_net(net).begin(), graph.points_of_net(net).end());
  for (const NetId rest : view.touched_nets())
    for (const PointId p : graph.points_of_net(rest))
      if (nets.count(view.net(p)) != 0) points.push_back(p);
  std::sort(points.begin(), points.end());
  return points;
}

double Cut::siemens(ElementId load, NetId inner) const {
  const bool starts_inside = view_->net(view_->end_a(load)) == inner;
  if (view_->graph().is_diode(load) && starts_inside != is_red_) return 0;
  const OhmInterval ohms = view_->interval(load);
  return 1 / (values_ == CutValues::lowest ? ohms.lo : ohms.hi).value;
}

double Cut::siemens_out(NetId net) const {
  double sum = 0;
  for_each_load_out(*view_, net, [&](ElementId e, NetId far) {
    if (!holds(far)) sum += siemens(e, net);
  });
  return sum;
}

void Cut::add(NetId net) {
  nets_.push_back(net);
  known_.insert(net);
  siemens_ = 0;
  for (const NetId inner : nets_) siemens_ += siemens_out(inner);
}

std::optional<Cut> Cut::around(const View& view, const Probing& reading, PointId Probing::*from, Ohms limit,
                               CutValues values) {
  PointId Probing::*to = from == &Probing::from ? &Probing::to : &Probing::from;
  const std::vector<NetId> other = nets_under(view, reading, to);
  const auto is_other = [&](NetId net) { return std::find(other.begin(), other.end(), net) != other.end(); };
  Cut cut(view, limit, values, from == &Probing::from);
  const std::vector<NetId> own = nets_under(view, reading, from);
  if (std::any_of(own.begin(), own.end(), is_other)) return std::nullopt;
  for (const NetId net : own) cut.add(net);
  if (values == CutValues::highest && cut.siemens_ > 0)
    // Nothing at all leaves what loads with an upper limit join.
    if (std::unordered_set<NetId> known = nets_within_reach(view, own);
        std::none_of(other.begin(), other.end(), [&](NetId net) { return known.count(net) != 0; })) {
      cut.nets_.assign(known.begin(), known.end());
      cut.known_ = std::move(known);
      cut.siemens_ = 0;
      return cut;
    }
  // Beyond a few nets nothing is gained over taking all that loads join.
  constexpr std::size_t k_most_nets = 16;
  while (cut.siemens_ * limit.value * k_on_the_limit >= 1) {
    if (cut.nets_.size() >= k_most_nets) return std::nullopt;
    double best = 0;
    NetId next = NetId::none;
    for (const NetId inner : cut.nets_)
      for_each_load_out(view, inner, [&](ElementId e, NetId far) {
        if (cut.holds(far) || cut.siemens(e, inner) <= best) return;
        best = cut.siemens(e, inner);
        next = far;
      });
    if (next == NetId::none || is_other(next)) return std::nullopt;
    cut.add(next);
  }
  return cut;
}

std::optional<Cut> Cut::of_all_joined(const View& view, const Probing& reading, PointId Probing::*from) {
  Cut cut(view, k_infinite_ohms, CutValues::lowest, from == &Probing::from);
  for (const NetId own : nets_under(view, reading, from))
    for (const NetId net : nets_joined_by_loads(view, own)) cut.known_.insert(net);
  for (const NetId net : nets_under(view, reading, from == &Probing::from ? &Probing::to : &Probing::from))
    if (cut.holds(net)) return std::nullopt;
  cut.nets_.assign(cut.known_.begin(), cut.known_.end());
  return cut;
}

std::vector<PointId> Cut::points() const { return points_of(*view_, known_); }

std::vector<ElementId> Cut::loads_out() const {
  std::vector<ElementId> loads;
  for (const NetId net : nets_)
    for_each_load_out(*view_, net, [&](ElementId e, NetId far) {
      if (!holds(far)) loads.push_back(e);
    });
  std::sort(loads.begin(), loads.end());
  loads.erase(std::unique(loads.begin(), loads.end()), loads.end());
  return loads;
}

bool Cut::bears(double siemens) const { return (siemens_ + siemens) * limit_.value * k_on_the_limit < 1; }

}  // namespace ringtrue
