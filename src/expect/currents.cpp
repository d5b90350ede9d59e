#include "ringtrue/expect/currents.hpp"

#include <algorithm>

#include "network.hpp"
#include "quick_bounds.hpp"
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

std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most) {
  return ways_of(network_of_points(view, reading), most);
}

}  // namespace ringtrue
