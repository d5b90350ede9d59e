#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "json_writer.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue::report {

/// The points of a reading to take; as written before where it's one to take again.
struct NextPoints {
  std::string from, to;
};
[[nodiscard]] NextPoints points_of(const NextReading& next, const ConductionGraph& graph,
                                   const Readings& readings);

/// `wire 5 open`, `wire 5 on X1:6.int`, `R3 misread`: a fault in as few words as tell it from others.
[[nodiscard]] std::string in_short(const Fault& fault, const ConductionGraph& graph,
                                   const Readings& readings);

/// `beep`, `no beep`, `30 to 60 Ω`, `OL`.
[[nodiscard]] std::string what_is_read(const NextReading& next, const NextOutcome& outcome);

/// `Next: read A1:0.0 to X1:4.int; a beep means wire 5 on X1:4.int (62%), none wire 5 open (38%).`
[[nodiscard]] std::string next_in_short(const NextReading& next, const Cluster& cluster,
                                        const ConductionGraph& graph, const Readings& readings);

/// What has to be done for a condition and undone afterwards: `lift conductor 12 at X1:5.int; unplug K1`.
/// Empty at rest.
[[nodiscard]] std::string to_be_done(std::string_view condition, Detail detail);

/// {from, to, conditions, method}, or null where there is no reading to take.
void write_next_reading(JsonWriter& json, const NextReading* next, const ConductionGraph& graph,
                        const Readings& readings);

}  // namespace ringtrue::report
