#include "ringtrue/expect/currents.hpp"

#include <algorithm>

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

JointPlaces places_that_lower(const View& view, const Probing& reading, Ohms to) {
  const ConductionGraph& graph = view.graph();
  const Network network = network_without_diodes(view, reading);
  JointPlaces places;
  for (const Network::Branch& branch : network.branches)
    if (!branch.is_hard && branch.edge.element != ElementId::none)
      places.loads.push_back(branch.edge.element);
  std::sort(places.loads.begin(), places.loads.end());
  if (network.black == network.nodes) {
    Probing turned = reading;
    std::swap(turned.from, turned.to);
    std::swap(turned.from_either_side, turned.to_either_side);
    places.at_red = points_between(network, graph, {}, 0, 0);
    places.at_black = points_between(network_without_diodes(view, turned), graph, {}, 0, 0);
    return places;
  }
  const EffectiveResistance lowest = lowest_potentials(network);
  std::vector<double> volts = lowest.potential;
  const double ohms = lowest.bounds.lo.value;
  for (double& volt : volts) volt *= ohms;
  const double slack = ohms * k_solver_accuracy;
  places.at_red = points_between(network, graph, volts, ohms - to.value - slack, k_infinite_ohms.value);
  places.at_black = points_between(network, graph, volts, 0, to.value + slack);
  return places;
}

std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most) {
  return ways_of(network_of_points(view, reading), most);
}

}  // namespace ringtrue
