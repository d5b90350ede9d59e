#include "walk.hpp"

#include <algorithm>

#include "walk_order.hpp"

namespace ringtrue {

namespace {

Leg leg_of(const PlannedReading& reading, std::uint32_t number, const ConditionOverlay& made,
           const WalkStops& stops) {
  return {number, {stops.at(reading.from, made), stops.at(reading.to, made)}, reading.polarity_matters};
}

/// What it takes to come from one condition to the next. What both have stays as it is.
double effort_of_change(const PlanCondition& before, const PlanCondition& now, const ConductionGraph& graph,
                        const Efforts& efforts) {
  const auto settings = [&](const PlanCondition& condition) {
    return parse_condition(condition.text, graph).value().settings;
  };
  const std::vector<Setting> stay = settings(before);
  Condition anew;
  for (const Setting& setting : settings(now))
    if (std::none_of(stay.begin(), stay.end(),
                     [&](const Setting& one) { return one.object == setting.object; }))
      anew.settings.push_back(setting);
  return effort_of(anew, efforts);
}

}  // namespace

void put_in_walking_order(const ConductionGraph& graph, const std::vector<PlanCondition>& conditions,
                          const Efforts& efforts, std::vector<PlannedReading>& readings) {
  const WalkStops stops(graph, conditions, readings, efforts);
  std::vector<std::vector<Leg>> by_condition(conditions.size());
  for (std::uint32_t i = 0; i < readings.size(); ++i) {
    const std::uint32_t condition = readings[i].condition;
    by_condition[condition].push_back(leg_of(readings[i], i, conditions[condition].made, stops));
  }
  std::vector<PlannedReading> walk;
  walk.reserve(readings.size());
  for (std::vector<Leg>& legs : by_condition) {
    put_in_order(legs, stops);
    for (const Leg& leg : legs) {
      walk.push_back(std::move(readings[leg.reading]));
      if (leg.is_turned) std::swap(walk.back().from, walk.back().to);
    }
  }
  readings = std::move(walk);
}

WalkFigures figures_of(const ConductionGraph& graph, const std::vector<PlanCondition>& conditions,
                       const std::vector<PlannedReading>& readings, const Efforts& efforts) {
  const WalkStops stops(graph, conditions, readings, efforts);
  WalkFigures figures;
  figures.readings = readings.size();
  Leg before;
  std::uint32_t set = 0;
  for (std::uint32_t i = 0; i < readings.size(); ++i) {
    const PlannedReading& reading = readings[i];
    const PlanCondition& condition = conditions[reading.condition];
    const bool is_anew = i == 0 || readings[i - 1].condition != reading.condition;
    if (is_anew) {
      figures.conditions += reading.condition != 0 ? 1u : 0u;
      figures.effort += effort_of_change(conditions[set], condition, graph, efforts);
      set = reading.condition;
    }
    figures.effort += efforts.reading + (reading.expected == Expected::ohms ? efforts.value : 0);
    const Leg leg = leg_of(reading, i, condition.made, stops);
    for (const int probe : {0, 1}) {
      const Stop &from = before.at[probe], &to = leg.at[probe];
      if (!is_anew && from.point == to.point) continue;
      ++figures.moves;
      figures.effort += to.pin + (is_anew ? 0 : stops.apart(from, to));
    }
    before = leg;
  }
  return figures;
}

WalkFigures wire_by_wire(const ConductionGraph& graph, const Efforts& efforts) {
  std::vector<PlannedReading> readings;
  for (std::uint32_t i = 0; i < graph.conductor_count(); ++i) {
    const ElementId conductor{i};
    if (!graph.is_on_at_rest(conductor)) continue;
    PlannedReading& reading = readings.emplace_back();
    reading.from = graph.end_a(conductor);
    reading.to = graph.end_b(conductor);
  }
  return figures_of(graph, std::vector<PlanCondition>(1), readings, efforts);
}

}  // namespace ringtrue
