#pragma once
#include <string>

#include "ringtrue/report/plan_report.hpp"

namespace ringtrue::report {

/// Appends a block for each condition: what to set, then a table of the readings under it, in the order of
/// the walk. Consecutive readings that share a point are told as one probe that stays.
void append_planned_readings(std::string& out, const PlanReport& report, Detail detail);

}  // namespace ringtrue::report
