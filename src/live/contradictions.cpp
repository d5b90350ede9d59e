#include "ringtrue/live/contradictions.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace ringtrue {

std::vector<std::vector<ReadingId>> contradictions(const DiagnosisState& state) {
  const Comparison& comparison = state.comparison();
  std::vector<std::vector<ReadingId>> groups;
  std::map<std::tuple<PointId, PointId, std::uint16_t>, std::size_t> group_of;
  for (std::uint32_t i = 0; i < comparison.standing.size(); ++i) {
    if (comparison.standing[i] != Standing::unstable) continue;
    const Probing& probing = comparison.probings[i];
    const auto [first, second] = std::minmax(probing.from, probing.to);
    const auto [at, is_new] =
        group_of.try_emplace({first, second, state.readings().rows[i].condition}, groups.size());
    if (is_new) groups.emplace_back();
    groups[at->second].push_back(ReadingId{i});
  }
  return groups;
}

std::string contradiction_line(const DiagnosisState& state, const std::vector<ReadingId>& group) {
  const Readings& readings = state.readings();
  const Reading& first = readings.rows[index(group.front())];
  std::string text = std::string(first.from) + " to " + std::string(first.to) + ": ";
  for (const ReadingId reading : group)
    text += (reading == group.front() ? "" : ", ") + readings.name(reading) + " " +
            to_text(readings.rows[index(reading)].value);
  return text +
         " contradict each other, so none of them counts. A loose clamp, or one was misread: read again, "
         "then undo "
         "the wrong one.";
}

}  // namespace ringtrue
