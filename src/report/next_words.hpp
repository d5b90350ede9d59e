#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "json_writer.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue::report {

using ringtrue::next_in_short;
using ringtrue::points_of;
using ringtrue::to_be_done;

/// `wire 5 open`, `wire 5 on X1:6.int`, `R3 misread`: a fault in as few words as tell it from others.
[[nodiscard]] std::string in_short(const Fault& fault, const ConductionGraph& graph,
                                   const Readings& readings);

/// `beep`, `no beep`, `30 to 60 Ω`, `OL`.
[[nodiscard]] std::string what_is_read(const NextReading& next, const NextOutcome& outcome);

/// {from, to, conditions, method}, or null where there is no reading to take.
void write_next_reading(JsonWriter& json, const NextReading* next, const ConductionGraph& graph,
                        const Readings& readings);

}  // namespace ringtrue::report
