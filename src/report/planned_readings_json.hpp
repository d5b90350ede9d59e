#pragma once
#include "json_writer.hpp"
#include "ringtrue/plan/plan.hpp"

namespace ringtrue::report {

/// The readings of a plan, as an array.
void write_planned_readings(JsonWriter& json, const Plan& plan, const ConductionGraph& graph);

/// `"KEY": ["12", "X1:5"]`
void write_names(JsonWriter& json, std::string_view key, const std::vector<ElementId>& elements,
                 const ConductionGraph& graph);

}  // namespace ringtrue::report
