#include "planned_readings_json.hpp"

#include "plan_words.hpp"

namespace ringtrue::report {

namespace {

void write_reading(JsonWriter& json, const Plan& plan, const ConductionGraph& graph, std::size_t number) {
  const PlannedReading& reading = plan.readings[number];
  const PlanCondition& condition = plan.conditions[reading.condition];
  json.begin_object().key("id").text(planned_id(plan, number));
  json.key("from").text(point_name(reading.from, condition.made, graph));
  json.key("to").text(point_name(reading.to, condition.made, graph));
  json.key("conditions").text(condition.text).key("expect").text(word(reading.expected)).key("ohms");
  if (reading.expected == Expected::ohms)
    json.interval(reading.ohms);
  else
    json.null();
  json.key("polarity_matters").boolean(reading.polarity_matters);
  write_names(json, "proves", reading.proves, graph);
  json.end_object();
}

}  // namespace

void write_planned_readings(JsonWriter& json, const Plan& plan, const ConductionGraph& graph) {
  json.begin_array();
  for (std::size_t i = 0; i < plan.readings.size(); ++i) write_reading(json, plan, graph, i);
  json.end_array();
}

void write_names(JsonWriter& json, std::string_view key, const std::vector<ElementId>& elements,
                 const ConductionGraph& graph) {
  json.key(key).begin_array();
  for (const ElementId element : elements) json.text(graph.element_name(element));
  json.end_array();
}

}  // namespace ringtrue::report
