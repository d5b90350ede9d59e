#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/power/input_loop.hpp"

namespace ringtrue {

/// Measured from a point of the loop to the minus of its supply, with the input driven and dark.
struct LoopVolts {
  PointId point = PointId::none;
  double volts = 0;
};

/// A point that still has the voltage of plus shows from three quarters of it to half as much again; one that
/// has that of minus, a quarter at most either way. Estimates: nothing in a broken loop shows anything
/// between.
[[nodiscard]] bool shows_plus(double volts, const InputLoop& loop);
[[nodiscard]] bool shows_minus(double volts, const InputLoop& loop);

/// Which point is measured next.
enum class SplitBy : std::uint8_t {
  count,   ///< that which halves the suspects: the fewest voltages at worst
  priors,  ///< that which needs the fewest on average, by how likely each is to be the broken one
};
[[nodiscard]] std::string_view word(SplitBy by);  ///< `count`, `priors`

/// What is known of each segment of a loop before a voltage is measured.
struct LoopEvidence {
  std::vector<std::uint8_t> is_proven;  ///< a continuity reading shows that it conducts
  /// How likely it is broken: the prior of an open of its kind, or the probability of a finding that touches
  /// it where that is more.
  std::vector<double> weights;
};
/// By segment, of the readings behind the findings.
[[nodiscard]] LoopEvidence loop_evidence(const InputLoop& loop, const ConductionGraph& graph,
                                         const Findings& findings, const Priors& priors);

/// Conductors and parts that the faults of a diagnosis concern, each once, sorted.
[[nodiscard]] std::vector<ElementId> accused_elements(const Diagnosis& diagnosis,
                                                      const ConductionGraph& graph);

/// Voltages that are still needed, the next one included.
struct VoltagesLeft {
  std::size_t at_most = 0;
  double on_average = 0;  ///< by the weights of the suspects
};

/// Where the break may be, and where to measure next.
struct Located {
  bool is_supply_shown = false;       ///< its plus has shown voltage
  bool is_supply_missing = false;     ///< ... or has shown none
  bool is_contradictory = false;      ///< no single break gives these voltages
  std::vector<std::size_t> suspects;  ///< segments of which one is broken, if a single one is
  std::optional<PointId> next;        ///< where to measure next; nothing once nothing parts the suspects
  VoltagesLeft left;                  ///< split as asked for
  VoltagesLeft left_by_count;         ///< split by count
  std::vector<PointId> unclear;       ///< whose voltage is neither that of plus nor that of minus
};

/// Narrows a single break in the loop. Before it a point has the voltage of plus, behind it that of minus:
/// each value parts the suspects, so that, split by count, ⌈log2 n⌉ name one of n once the supply has shown
/// its own. Split by priors, no order of measuring has a smaller average. A point whose voltage is unclear
/// parts nothing: what lies around it may stay together.
///
/// Cost: the cube of the number of suspects.
[[nodiscard]] Located locate(const InputLoop& loop, std::span<const LoopVolts> measured,
                             const LoopEvidence& evidence, SplitBy by = SplitBy::count);

}  // namespace ringtrue
