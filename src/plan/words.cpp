#include <deque>
#include <memory>

#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

std::string_view word(Goal goal) { return goal == Goal::detect ? "detect" : "identify"; }

std::string_view word(Isolation isolation) {
  return isolation == Isolation::neighbours ? "neighbours" : "all";
}

std::string_view word(Expected expected) {
  switch (expected) {
    case Expected::beep:
      return "beep";
    case Expected::open:
      return "open";
    case Expected::ohms:
      return "ohms";
  }
  return {};
}

std::string_view word(WhyNotCovered why) {
  switch (why) {
    case WhyNotCovered::parallel:
      return "parallel";
    case WhyNotCovered::needs_lift:
      return "needs-lift";
    case WhyNotCovered::load_may_beep:
      return "load-may-beep";
    case WhyNotCovered::copper_too_long:
      return "copper-too-long";
    case WhyNotCovered::value_not_stated:
      return "value-not-stated";
    case WhyNotCovered::load_beside_load:
      return "load-beside-load";
    case WhyNotCovered::not_operable:
      return "not-operable";
  }
  return {};
}

namespace {

ReadingValue drawn_value(const PlannedReading& reading) {
  if (reading.expected == Expected::beep) return {ValueKind::beep, 0};
  if (reading.expected == Expected::open) return {ValueKind::open, 0};
  return {ValueKind::ohms, (reading.ohms.lo.value + reading.ohms.hi.value) / 2};
}

}  // namespace

Readings as_readings(const Plan& plan, const ConductionGraph& graph) {
  ReadingsBuilder builder("plan");
  const auto names = std::make_shared<std::deque<std::string>>();
  const auto keep = [&](std::string text) -> std::string_view {
    return names->emplace_back(std::move(text));
  };
  builder.keep(names);
  builder.reserve(plan.readings.size());
  std::vector<std::string_view> conditions;
  for (const PlanCondition& condition : plan.conditions) conditions.push_back(keep(condition.text));
  for (std::size_t i = 0; i < plan.readings.size(); ++i) {
    const PlannedReading& reading = plan.readings[i];
    const ConditionOverlay& made = plan.conditions[reading.condition].made;
    ReadingRow row;
    row.from = keep(point_name(reading.from, made, graph));
    row.to = keep(point_name(reading.to, made, graph));
    row.value = keep(to_text(drawn_value(reading)));
    row.conditions = conditions[reading.condition];
    row.id = keep("P" + std::to_string(i + 1));
    builder.add(row, static_cast<std::uint32_t>(i + 2));
  }
  return std::move(*builder.finish());
}

}  // namespace ringtrue
