#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/next.hpp"

namespace ringtrue {

/// A condition under which readings may be taken.
struct Setup {
  std::string text;  ///< as a file of readings has it
  ConditionOverlay made;
  double effort = 0;                         ///< of bringing it about from rest, and back
  std::optional<std::uint16_t> of_readings;  ///< the same among the conditions of the readings
};

/// At rest first, then the different conditions of the readings; not those with power on.
[[nodiscard]] std::vector<Setup> setups_of(const std::vector<ReadingId>& taken, const ConductionGraph& graph,
                                           const Readings& readings, const Comparison& comparison,
                                           const Efforts& efforts);

/// At rest but for one setting; nothing if the drawing refuses it.
[[nodiscard]] std::optional<Setup> setup_with(const std::string& setting, const ConductionGraph& graph,
                                              const Readings& readings, const Efforts& efforts);

/// What the probes' places add to a reading.
[[nodiscard]] double effort_of_probes(PointId from, PointId to, const ConductionGraph& graph,
                                      const Efforts& efforts);

}  // namespace ringtrue
