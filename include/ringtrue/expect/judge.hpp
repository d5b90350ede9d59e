#pragma once
#include <cstdint>
#include <memory>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/view.hpp"
#include "ringtrue/model/meter.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// A reading whose points are looked up: what `judge` needs and no more.
struct Probing {
  PointId from = PointId::none;  ///< red lead; matters where a diode lies between
  PointId to = PointId::none;
  [[no_unique_address]] ReadingValue value = {};  ///< leaves 7 bytes, which the rest makes use of
  bool from_either_side = false;  ///< bare terminal name: `from` is its `.int`, the body counts as conducting
  bool to_either_side = false;
  Method method = Method::not_stated;
};

/// Whether the drawing lets the meter show what it showed.
enum class Verdict : std::uint8_t {
  agrees,
  disagrees,
  either,  ///< agrees, and the opposite would have agreed too
};

/// How the defaulted elements of a way (those whose resistance the drawing doesn't state) count in its upper
/// bound.
enum class Counting : std::uint8_t {
  whole,    ///< each with its greatest value: for a value in ohms
  limited,  ///< together as at most `k_default_path_ohms`: for a buzzer
};
/// Whole for a value in ohms, limited for what a buzzer did.
[[nodiscard]] Counting counting_of(const Probing& reading);
/// Estimate. So only stated lengths and values can push copper over a buzzer's threshold.
inline constexpr double k_default_path_ohms = 5;

/// Resistances that the circuit between the probes may have had when the meter showed what it did: up to the
/// threshold for a beep, above it for none, the value within the meter's uncertainty for ohms.
[[nodiscard]] OhmInterval seen_ohms(const Probing& reading, const MeterSettings& meter);

/// Says whether the graph under an overlay can show what the meter showed. The only question later stages
/// ask.
///
/// The answer is the one that `expected_resistance` gives, but mostly found without solving anything: copper
/// whose stated values add up to little, cuts around the probes, and single paths decide nearly all readings.
/// Volts, lit, dark and counts are not predicted here and come out as `either`.
///
/// Cost: constant where both probes are on one net or no load is near; else the loads of two nets; at worst
/// two sparse solves over everything that carries current between the probes. Thread-safe.
[[nodiscard]] Verdict judge(const View& view, const Probing& reading, const MeterSettings& meter = {});

/// `judge` for many readings under one view: what two nets have in common is computed once. For one thread.
class Judge {
 public:
  /// The view must outlive the judge.
  explicit Judge(const View& view);
  Judge(Judge&& other) noexcept;
  ~Judge();
  [[nodiscard]] Verdict verdict(const Probing& reading, const MeterSettings& meter);
  /// The verdict, or `either` between two nets where only solving the network would tell.
  [[nodiscard]] Verdict verdict_without_solving(const Probing& reading, const MeterSettings& meter);
  /// The verdict is not `disagrees`. Needs less than the verdict itself.
  [[nodiscard]] bool is_possible(const Probing& reading, const MeterSettings& meter);

 private:
  class Impl;
  std::unique_ptr<Impl> impl_;
};

/// Predicts the resistance that a meter may find between the probes of a reading.
///
/// Solves the network with every element at its lowest and again at its highest value. The true resistance
/// lies between the two results, because it never falls when an element's rises. Elements that the drawing
/// gives no value count with the default of their kind (see DEVELOPERS.md, Conduction). A diode counts as any
/// resistance, and as none where the polarity of the leads keeps current from flowing through it.
///
/// @return [lo, hi] in ohms. hi is infinite where no path is certain, lo too where none is possible.
/// Cost: two or three sparse solves over what carries current between the probes. Thread-safe.
/// Source: Doyle and Snell 1984, Random Walks and Electric Networks, section 1.4 (Rayleigh's law).
[[nodiscard]] OhmInterval expected_resistance(const View& view, const Probing& reading,
                                              Counting counting = Counting::whole);

}  // namespace ringtrue
