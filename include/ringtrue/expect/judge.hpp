#pragma once
#include <cstdint>
#include <unordered_map>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/view.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// The meter with which a reading was taken.
struct MeterSettings {
  Ohms threshold{
      30};  ///< beeps at or below it. Common practice, no source: hand meters differ from 20 to 50 ohms.
  Ohms range =
      k_infinite_ohms;  ///< shows OL above it; infinite = not stated, then OL only means above the threshold
  Ohms lead_allowance{0.5};  ///< what leads and probe contact may add to a reading in ohms; estimate
  double accuracy = 0.02;    ///< share of the value; estimate
};

/// A reading whose points are looked up: what `judge` needs and no more.
struct Probing {
  PointId from = PointId::none;
  PointId to = PointId::none;
  bool from_either_side = false;  ///< bare terminal name: `from` is its `.int`, the body counts as conducting
  bool to_either_side = false;
  Method method = Method::not_stated;
  ReadingValue value;
};

enum class Verdict : std::uint8_t {
  agrees,
  disagrees,
  either,  ///< agrees, and the opposite would have agreed too
};

struct Judgement {
  Verdict verdict = Verdict::either;
  OhmInterval expected;  ///< rigorous, if coarse: the true resistance lies inside
};

/// Says whether the graph under an overlay can show what the meter showed. The only question later stages
/// ask.
///
/// A hard path predicts a beep: defaulted elements of it count together as at most 5 ohms (for ohms each
/// counts whole). No path at all predicts open. Between different nets with loads on them the resistance is
/// bounded from below by the two cuts around the probes (Nash-Williams 1959, from memory: disjoint cuts add
/// up) and from above by the cheapest series path (Rayleigh's monotonicity: leaving elements out never lowers
/// it). Volts, lit, dark and counts are not predicted here and come out as `either`.
///
/// Cost: constant where both probes are on one net or no load is near; else the loads of two nets.
/// Thread-safe.
[[nodiscard]] Judgement judge(const View& view, const Probing& reading, const MeterSettings& meter = {});

/// `judge` for many readings under one view: bounds between two nets are computed once. For one thread.
class Judge {
 public:
  /// The view and the meter must outlive the judge.
  Judge(const View& view, const MeterSettings& meter) : view_(view), meter_(meter) {}
  [[nodiscard]] Verdict verdict(const Probing& reading);

 private:
  const View& view_;
  const MeterSettings& meter_;
  std::unordered_map<std::uint64_t, OhmInterval> between_nets_;
};

/// The interval alone, for the same two probes.
[[nodiscard]] OhmInterval expected_resistance(const View& view, const Probing& reading,
                                              const MeterSettings& meter = {});

}  // namespace ringtrue
