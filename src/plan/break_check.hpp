#pragma once
#include "cover.hpp"
#include "ringtrue/expect/load_cuts.hpp"
#include "ringtrue/model/meter.hpp"

namespace ringtrue {

/// Whether a buzzer falls silent on a break, whatever the loads beside it are.
///
/// Current that goes past a break has to leave the copper on its one side through loads, and to come back to
/// that on the other. Where those of one side let too little through, nothing needs to be solved; else the
/// reading is judged with the element off.
class BreakCheck {
 public:
  /// All must outlive it.
  BreakCheck(const View& view, const Numbering& numbering, const MeterSettings& meter)
      : view_(view), numbering_(numbering), meter_(meter), cuts_(view, numbering) {}

  /// Loads let so little past the element that a buzzer falls silent on its break whichever way round it is.
  [[nodiscard]] bool is_cut_off(ElementId e) const;
  /// The same wherever either end of the element goes.
  [[nodiscard]] bool is_cut_off_from_both(ElementId e) const;
  /// With the element, a single connection, open a buzzer between the probes, red on `from`, can't beep.
  [[nodiscard]] bool shows(PointId from, PointId to, ElementId e) const;
  /// As drawn it beeps for certain.
  [[nodiscard]] bool beeps(PointId from, PointId to) const;

 private:
  const View& view_;
  const Numbering& numbering_;
  const MeterSettings& meter_;
  LoadCuts cuts_;
};

}  // namespace ringtrue
