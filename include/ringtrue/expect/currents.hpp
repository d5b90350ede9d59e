#pragma once
#include <vector>

#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

// What would have to change for a reading in ohms to come out otherwise.

/// Elements of which one has to be altered before the resistance may be above `limit`, by number: those of
/// one copper path where it alone stays at or below it, else of ways that together do. `limit` is at least
/// the upper end of the interval.
[[nodiscard]] std::vector<ElementId> elements_that_hold_down(const View& view, const Probing& reading,
                                                             Ohms limit);

/// Where one further joint can bring the resistance down to a value: only from one of these points to one of
/// those. One between points at potentials x and y (volts per ampere, every element at its lowest value,
/// diodes as joints) lowers R by at most |x - y|, since the effective resistance between the two is at least
/// that much.
///
/// Where nothing conducts between the probes, what the joint lets flow has to pass the loads at both of its
/// ends; joints of which each could pass less than half of what is asked for can't do it two at a time.
struct JointPlaces {
  std::vector<PointId> at_red, at_black;  ///< by number
  /// All that may carry current, where nothing conducts between the probes: many joints at once may do it
  /// from any of these to any of those. Else as above.
  std::vector<PointId> all_at_red, all_at_black;
  std::vector<ElementId> loads;  ///< that carry current, and whose lower value would lower it
};
[[nodiscard]] JointPlaces places_that_lower(const View& view, const Probing& reading, Ohms to);

/// Ways between the probes, least resistance first; see Expectation::ways.
[[nodiscard]] std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most);

}  // namespace ringtrue
