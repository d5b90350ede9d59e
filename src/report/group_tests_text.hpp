#pragma once
#include <string>

#include "ringtrue/report/plan_report.hpp"

namespace ringtrue::report {

/// Appends a block for each condition with group tests: which bundles of nets go on which clip in each test.
void append_group_tests(std::string& out, const PlanReport& report, Detail detail);

}  // namespace ringtrue::report
