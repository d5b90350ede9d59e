#include "ringtrue/report/stale_words.hpp"

#include <algorithm>
#include <set>
#include <tuple>

namespace ringtrue {

std::string why_stale(const Readings& readings, std::size_t reading) {
  const auto outdated = readings.outdated.find(static_cast<std::uint32_t>(reading));
  return outdated == readings.outdated.end() ? "a later repair or temporary change touched it"
                                             : outdated->second;
}

std::vector<StaleReadings> stale_readings(const Readings& readings, const Comparison& comparison) {
  const auto pair = [&](std::uint32_t reading) {
    const auto [first, second] =
        std::minmax(comparison.probings[reading].from, comparison.probings[reading].to);
    return std::tuple(first, second, readings.rows[reading].condition);
  };
  const auto is_of = [&](std::uint32_t reading, Standing standing) {
    return comparison.standing[reading] == standing;
  };
  std::set<std::tuple<PointId, PointId, std::uint16_t>> current;
  for (std::uint32_t i = 0; i < comparison.standing.size(); ++i)
    if (!is_of(i, Standing::stale) && !is_of(i, Standing::unknown_point)) current.insert(pair(i));
  std::vector<StaleReadings> all;
  for (std::uint32_t i = 0; i < comparison.standing.size(); ++i) {
    if (!is_of(i, Standing::stale) || current.contains(pair(i))) continue;
    std::string why = why_stale(readings, i);
    auto group =
        std::find_if(all.begin(), all.end(), [&](const StaleReadings& one) { return one.why == why; });
    if (group == all.end()) group = all.insert(all.end(), {std::move(why), {}});
    group->readings.push_back(ReadingId{i});
  }
  return all;
}

}  // namespace ringtrue
