#pragma once
#include <vector>

#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

// What would have to change for a reading in ohms to come out otherwise.

/// Elements of which one has to be altered before the resistance may be above `limit`, by number: they are on
/// ways that together stay at or below it. `limit` is at least the upper end of the interval.
[[nodiscard]] std::vector<ElementId> elements_that_hold_down(const View& view, const Probing& reading,
                                                             Ohms limit);

/// Where a further joint can bring the resistance down.
struct JointPlaces {
  std::vector<PointId> anywhere;  ///< every point that current between the probes may reach, by number
  /// A single further joint brings it down to the value only if it leads from one of these to one of those.
  /// One between points at potentials x and y (volts per ampere) lowers R by at most |x - y|, since the
  /// effective resistance between the two is at least that much.
  std::vector<PointId> at_red, at_black;
  std::vector<ElementId> loads;  ///< that carry current, and whose lower value would lower it, by number
};
[[nodiscard]] JointPlaces places_that_lower(const View& view, const Probing& reading, Ohms to);

/// Ways between the probes, least resistance first; see Expectation::ways.
[[nodiscard]] std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most);

}  // namespace ringtrue
