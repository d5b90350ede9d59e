#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/compare/compare.hpp"

namespace ringtrue {

/// Why a stale reading no longer counts, for people.
[[nodiscard]] std::string why_stale(const Readings& readings, std::size_t reading);

/// Stale readings that are so for one reason, and whose points were not read again since under the same
/// condition.
struct StaleReadings {
  std::string why;
  std::vector<ReadingId> readings;  ///< in file order; never empty
};
/// By the first reading of each reason.
[[nodiscard]] std::vector<StaleReadings> stale_readings(const Readings& readings,
                                                        const Comparison& comparison);

/// Whether the drawing still has the points of the reading, and what was lifted or operated for it.
[[nodiscard]] inline bool has_place(const Comparison& comparison, ReadingId reading) {
  return comparison.probings[index(reading)].from != PointId::none;
}

}  // namespace ringtrue
