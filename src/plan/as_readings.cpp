#include <deque>
#include <memory>

#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

namespace {

ReadingValue drawn_value(const PlannedReading& reading) {
  if (reading.expected == Expected::beep) return {ValueKind::beep, 0};
  if (reading.expected == Expected::open) return {ValueKind::open, 0};
  if (reading.ohms.lo == k_infinite_ohms) return {ValueKind::over_range, 0};
  if (reading.ohms.hi == k_infinite_ohms) return {ValueKind::ohms, 2 * reading.ohms.lo.value};
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
    row.id = keep("P" + std::to_string(plan.first_id + i));
    builder.add(row, static_cast<std::uint32_t>(i + 2));
  }
  return std::move(*builder.finish());
}

namespace {

void append(ReadingsBuilder& builder, const Readings& readings, std::size_t number) {
  const Reading& reading = readings.rows[number];
  const auto text = [&](ReadingText field) { return readings.text.get(field, number); };
  ReadingRow row;
  row.from = reading.from, row.to = reading.to;
  row.conditions = readings.conditions[reading.condition];
  row.value = text(ReadingText::value), row.method = word(reading.method);
  row.meter = text(ReadingText::meter), row.id = text(ReadingText::id);
  builder.add(row, reading.line);
}

}  // namespace

/// Those that no longer count are left out, since what overtakes a reading goes by its time, and planned ones
/// have none yet.
TakenAndPlanned taken_and_planned(const Done& done, const Plan& plan, const ConductionGraph& graph) {
  const Readings planned = as_readings(plan, graph);
  TakenAndPlanned made;
  ReadingsBuilder builder(done.readings != nullptr ? done.readings->file : planned.file);
  for (const auto& buffer : planned.buffers) builder.keep(buffer);
  if (done.readings != nullptr) {
    for (const auto& buffer : done.readings->buffers) builder.keep(buffer);
    for (std::size_t i = 0; i < done.readings->rows.size(); ++i)
      if (done.comparison->standing[i] < Standing::unknown_point) {
        append(builder, *done.readings, i);
        ++made.taken;
      }
  }
  for (std::size_t i = 0; i < planned.rows.size(); ++i) append(builder, planned, i);
  made.readings = std::move(*builder.finish());
  return made;
}

}  // namespace ringtrue
