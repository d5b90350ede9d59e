#pragma once
#include <vector>

#include "cover.hpp"
#include "ringtrue/model/meter.hpp"

namespace ringtrue {

/// Whether a buzzer falls silent on a break, whatever the loads beside it are.
///
/// Current that goes past a break has to leave the copper on its one side through loads, and to come back to
/// that on the other, so it meets at least the ohms of all loads at the lesser side in parallel, each at its
/// lowest. Where that is above what beeps, nothing needs to be solved (the cut of Nash-Williams 1959, as in
/// src/expect/quick_bounds.cpp); else the reading is judged with the element off.
class BreakCheck {
 public:
  /// All must outlive it.
  BreakCheck(const View& view, const Numbering& numbering, const MeterSettings& meter);

  /// With the element open a buzzer between the probes, red on `from`, can't beep.
  [[nodiscard]] bool shows(PointId from, PointId to, ElementId e) const;
  /// As drawn it beeps for certain.
  [[nodiscard]] bool beeps(PointId from, PointId to) const;

 private:
  /// What the loads at some points conduct at most.
  struct Conductance {
    double siemens = 0;
    std::uint32_t unlimited = 0;  ///< loads that may have 0 ohms
  };
  [[nodiscard]] bool is_below(const Conductance& at) const;
  [[nodiscard]] bool is_cut_off(ElementId e) const;

  const View& view_;
  const Numbering& numbering_;
  const MeterSettings& meter_;
  bool has_loads_ = false;
  std::vector<Conductance> before_;  ///< sum over the points with lower numbers
  std::vector<std::uint32_t> root_;  ///< by number, of its net
};

}  // namespace ringtrue
