#include "ringtrue/report/stale_words.hpp"

#include <algorithm>

#include "ringtrue/compare/read_pairs.hpp"

namespace ringtrue {

std::string why_stale(const Readings& readings, std::size_t reading) {
  const auto outdated = readings.outdated.find(static_cast<std::uint32_t>(reading));
  return outdated == readings.outdated.end() ? "a later repair or temporary change touched it"
                                             : outdated->second;
}

std::vector<StaleReadings> stale_readings(const Readings& readings, const Comparison& comparison) {
  std::vector<StaleReadings> all;
  if (comparison.stale == 0) return all;
  const ReadPairs current(readings, comparison);
  for (std::uint32_t i = 0; i < comparison.standing.size(); ++i) {
    const Probing& probing = comparison.probings[i];
    const std::string& condition = readings.conditions[readings.rows[i].condition];
    if (comparison.standing[i] != Standing::stale || current.holds(probing.from, probing.to, condition))
      continue;
    std::string why = why_stale(readings, i);
    auto group =
        std::find_if(all.begin(), all.end(), [&](const StaleReadings& one) { return one.why == why; });
    if (group == all.end()) group = all.insert(all.end(), {std::move(why), {}});
    group->readings.push_back(ReadingId{i});
  }
  return all;
}

}  // namespace ringtrue
