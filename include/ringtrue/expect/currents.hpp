#pragma once
#include <optional>
#include <span>
#include <vector>

#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

// What would have to change for a reading in ohms to come out otherwise.

/// Elements of which one has to be altered before the resistance may be above `limit`, by number: those of
/// one copper path where it alone stays at or below it, else of ways that together do. `limit` is at least
/// the upper end of the interval.
[[nodiscard]] std::vector<ElementId> elements_that_hold_down(const View& view, const Probing& reading,
                                                             Ohms limit);

/// A hard edge between two points.
struct Joint {
  PointId p = PointId::none, q = PointId::none;
};

/// Which further joints can bring the resistance between the probes down to a value. A net counts as one
/// point, as if its copper had 0 ohms.
///
/// Where something conducts, by potentials: let u be those, in volts per ampere, of the current at the lowest
/// values, which no diode carries backwards. Joints between nets at x and y lower R by no more than the sum
/// of |x - y|. For squeeze u so that all these intervals become points: the joined nets are then at one
/// potential, no anode is above its cathode where none was, and from end to end it falls by R less that sum.
/// Its power is at most that fall, since each load's drop is at most its drop in u; so by the bound of Cauchy
/// and Schwarz at the head of src/expect/network.cpp R cannot come to less.
///
/// Where nothing conducts, what a joint lets flow has to pass the loads around the nets at both of its ends.
/// Two at once can't do it if each could pass less than half of what is asked for.
class LoweringJoints {
 public:
  /// The view must outlive it.
  LoweringJoints(const View& view, const Probing& reading, Ohms to);

  /// Nets at one end of any `joints` joints, one or two, that together may do it.
  [[nodiscard]] std::vector<NetId> starts(unsigned joints) const;
  /// All that may carry current, on the red probe's side if nothing conducts to the black one's.
  [[nodiscard]] std::vector<NetId> nets() const;
  /// Loads that carry current, and whose lower value would lower the resistance.
  [[nodiscard]] const std::vector<ElementId>& loads() const { return loads_; }
  /// The point may be the other end of a joint that does it alone.
  [[nodiscard]] bool may_end(PointId p) const;
  /// The joints, all made at once, may do it. Never falsely no.
  [[nodiscard]] bool may_do(std::span<const Joint> joints) const;

 private:
  struct Place {
    NetId net = NetId::none;
    /// Where something conducts, volts per ampere; else the least ohms between the net and the probe on its
    /// side.
    double at = 0;
    bool is_red = false;  ///< where nothing conducts: on the red probe's side
  };
  [[nodiscard]] bool is_start(const Place& place, unsigned joints) const;
  [[nodiscard]] const Place* place(PointId p) const;
  [[nodiscard]] std::optional<Joint> as_one(std::span<const Joint> joints) const;
  [[nodiscard]] bool may_take_away(std::span<const Joint> joints) const;
  [[nodiscard]] bool may_carry(std::span<const Joint> joints) const;

  const View& view_;
  bool conducts_ = false;
  double most_ = 0;     ///< ohms that may be left
  double highest_ = 0;  ///< potential, of the red probe
  double needed_ = 0;   ///< volts per ampere that joints have to take away
  std::vector<Place> places_;
  std::vector<ElementId> loads_;
};

/// Ways between the probes, least resistance first; see Expectation::ways.
[[nodiscard]] std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most);

}  // namespace ringtrue
