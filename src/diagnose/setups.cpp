#include "setups.hpp"

#include <algorithm>

#include "ringtrue/graph/rows.hpp"

namespace ringtrue {

namespace {

/// More conditions of readings than this are rarely about; each costs a view per diagnosis.
constexpr std::size_t k_most_conditions = 4;

}  // namespace

std::vector<Setup> setups_of(const std::vector<ReadingId>& taken, const ConductionGraph& graph,
                             const Readings& readings, const Comparison& comparison, const Efforts& efforts) {
  std::vector<std::uint16_t> numbers = {0};
  for (const ReadingId reading : taken) {
    const std::uint16_t condition = readings.rows[index(reading)].condition;
    if (std::find(numbers.begin(), numbers.end(), condition) == numbers.end() &&
        numbers.size() <= k_most_conditions && !comparison.conditions.overlays[condition].power_on)
      numbers.push_back(condition);
  }
  std::vector<Setup> setups;
  for (const std::uint16_t condition : numbers)
    setups.push_back({readings.conditions[condition],
                      overlay_of(comparison.conditions.conditions[condition], graph),
                      effort_of(comparison.conditions.conditions[condition], efforts), condition});
  return setups;
}

std::optional<Setup> setup_with(const std::string& setting, const ConductionGraph& graph,
                                const Readings& readings, const Efforts& efforts) {
  const auto condition = parse_condition(setting, graph);
  if (!condition) return std::nullopt;
  Setup setup{setting, overlay_of(*condition, graph), effort_of(*condition, efforts), {}};
  const auto same = std::find(readings.conditions.begin(), readings.conditions.end(), setting);
  if (same != readings.conditions.end())
    setup.of_readings = static_cast<std::uint16_t>(same - readings.conditions.begin());
  return setup;
}

double effort_of_probes(PointId from, PointId to, const ConductionGraph& graph, const Efforts& efforts) {
  const double effort = effort_of_pin(from, graph, efforts) + effort_of_pin(to, graph, efforts);
  const bool both_known = index(from) < graph.point_count() && index(to) < graph.point_count();
  if (!both_known || !graph.on_one_part(from, to)) return effort + efforts.other_part;
  const bool beside = places_apart(graph, from, to).value_or(2) <= 1;
  return effort + (beside ? 0 : efforts.same_part);
}

}  // namespace ringtrue
