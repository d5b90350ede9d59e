#include "ringtrue/expect/currents.hpp"

#include <algorithm>
#include <iterator>
#include <unordered_map>

#include "network.hpp"
#include "quick_bounds.hpp"
#include "ringtrue/expect/effective_resistance.hpp"
#include "ringtrue/expect/hard_path.hpp"
#include "ways.hpp"

namespace ringtrue {

std::vector<ElementId> elements_that_hold_down(const View& view, const Probing& reading, Ohms limit) {
  const auto path = hard_path(view, reading);
  if (!path || bounds_of_hard_path(view, reading, counting_of(reading)).hi.hi > limit)
    return elements_to_raise(network_of_points(view, reading), limit);
  std::vector<ElementId> elements;
  for (const View::Edge& edge : path->edges)
    if (edge.element != ElementId::none) elements.push_back(edge.element);
  std::sort(elements.begin(), elements.end());
  return elements;
}

namespace {

std::vector<PointId> points_between(const Network& network, const ConductionGraph& graph,
                                    const std::vector<double>& volts, double least, double most) {
  std::vector<PointId> points;
  for (std::uint32_t node = 0; node < network.nodes; ++node)
    if (index(network.points[node]) < graph.point_count() &&
        (volts.empty() || (volts[node] >= least && volts[node] <= most)))
      points.push_back(network.points[node]);
  std::sort(points.begin(), points.end());
  return points;
}

}  // namespace

namespace {

/// Of some points those on nets at a probe, or whose loads at their lowest values would pass half of what
/// brings the resistance down to a value.
std::vector<PointId> that_pass_half(const std::vector<PointId>& points, const View& view,
                                    const std::vector<NetId>& probed, Ohms to) {
  std::unordered_map<NetId, bool> known;
  const auto passes = [&](PointId p) {
    const NetId net = view.net(p);
    const auto [at, is_new] = known.try_emplace(net, true);
    if (!is_new || std::find(probed.begin(), probed.end(), net) != probed.end()) return at->second;
    double siemens = 0;
    for (const ElementId load : view.loads_of_net(net))
      if (view.is_on(load) && view.net(view.end_a(load)) != view.net(view.end_b(load)))
        siemens += 1 / view.interval(load).lo.value;
    return at->second = 2 * siemens * to.value * (1 + k_solver_accuracy) >= 1;
  };
  std::vector<PointId> passing;
  std::copy_if(points.begin(), points.end(), std::back_inserter(passing), passes);
  return passing;
}

JointPlaces places_that_join(const View& view, const Probing& reading, const Network& at_red, Ohms to) {
  Probing turned = reading;
  std::swap(turned.from, turned.to);
  std::swap(turned.from_either_side, turned.to_either_side);
  const ProbedNets probed(view, reading);
  JointPlaces places;
  places.all_at_red = points_between(at_red, view.graph(), {}, 0, 0);
  places.all_at_black = points_between(network_without_diodes(view, turned), view.graph(), {}, 0, 0);
  places.at_red = that_pass_half(places.all_at_red, view, probed.from, to);
  places.at_black = that_pass_half(places.all_at_black, view, probed.to, to);
  return places;
}

}  // namespace

JointPlaces places_that_lower(const View& view, const Probing& reading, Ohms to) {
  const ConductionGraph& graph = view.graph();
  const Network network = network_without_diodes(view, reading);
  if (network.black == network.nodes) return places_that_join(view, reading, network, to);
  JointPlaces places;
  for (const Network::Branch& branch : network.branches)
    if (!branch.is_hard && branch.edge.element != ElementId::none)
      places.loads.push_back(branch.edge.element);
  std::sort(places.loads.begin(), places.loads.end());
  const EffectiveResistance lowest = lowest_potentials(network);
  std::vector<double> volts = lowest.potential;
  const double ohms = lowest.bounds.lo.value;
  for (double& volt : volts) volt *= ohms;
  const double slack = ohms * k_solver_accuracy;
  places.at_red = points_between(network, graph, volts, ohms - to.value - slack, k_infinite_ohms.value);
  places.at_black = points_between(network, graph, volts, 0, to.value + slack);
  places.all_at_red = places.at_red;
  places.all_at_black = places.at_black;
  return places;
}

std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most) {
  return ways_of(network_of_points(view, reading), most);
}

}  // namespace ringtrue
