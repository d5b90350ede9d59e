#pragma once
#include <cstdint>
#include <utility>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/power/power_up.hpp"

namespace ringtrue {

/// What must stand before a panel is powered, as far as readings can show it. That motors and actuators are
/// isolated they never show.
struct BeforePower {
  bool has_earth = false;                      ///< the netlist names a protective conductor
  std::size_t protective = 0;                  ///< elements of its copper in the panel
  std::vector<ElementId> unproven_protective;  ///< those of them that no reading proves
  std::size_t pairs = 0;                       ///< of potentials that no drawn copper joins
  /// Pairs (indices of potentials) of which no current reading shows more than the threshold.
  std::vector<std::pair<std::uint32_t, std::uint32_t>> not_shown_apart;
  std::size_t lines = 0;                     ///< AC lines
  std::vector<std::uint32_t> not_insulated;  ///< those without an insulation reading to earth of 1 MΩ or more
  std::size_t live = 0;                      ///< elements of copper that become live
  std::vector<std::vector<ElementId>> unproven_live;  ///< those of them that no reading proves, by step
  std::size_t contradictions = 0;                     ///< findings, and readings that contradict each other
  std::vector<const Event*> open_changes;             ///< temporary changes that nothing undid

  /// No reason stands against going on that readings and events could show.
  [[nodiscard]] bool nothing_stands_against() const {
    return has_earth && unproven_protective.empty() && not_shown_apart.empty() && not_insulated.empty() &&
           unproven_live_count() == 0 && contradictions == 0 && open_changes.empty();
  }
  [[nodiscard]] std::size_t unproven_live_count() const {
    std::size_t count = 0;
    for (const auto& of_step : unproven_live) count += of_step.size();
    return count;
  }
};

/// Least insulation of a line to the protective conductor. Source: IEC 60204-1, 18.3, at 500 V DC (from
/// memory, several public summaries agree).
inline constexpr Ohms k_least_insulation{1e6};

/// Stale, unstable and unknown readings show nothing. Between two potentials only a reading counts whose
/// condition leaves their copper whole, every fuse and breaker closed; of insulation also only one that has
/// all electronics unplugged. `open_changes` as `open_temporary_changes` gives them.
[[nodiscard]] BeforePower before_power(const ConductionGraph& graph, const PowerUp& power_up,
                                       const Readings& readings, const Comparison& comparison,
                                       const Findings& findings, std::vector<const Event*> open_changes);

}  // namespace ringtrue
