#include "ringtrue/model/decisions.hpp"

#include <algorithm>
#include <set>

#include "model/wrong_field.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

Result<Decision> decision_from_row(const DecisionRow& row, std::uint32_t line, std::string_view file) {
  const WrongField wrong(file, line);
  const auto missing = [&](std::string_view field, std::string expected) {
    return wrong(ErrorCode::missing_field, "the field is empty", field, "", std::move(expected));
  };
  if (row.finding.empty()) return missing("finding", "the faults of the finding, by names");
  if (row.by.empty()) return missing("by", "who decided it");
  const auto kind = from_word<DecisionKind>(row.decision);
  if (!kind)
    return wrong(ErrorCode::unknown_kind, "unknown word", "decision", row.decision,
                 listed_words<DecisionKind>());
  if (*kind == DecisionKind::accepted && trimmed(row.text).empty())
    return missing("text", "why it is accepted");
  if (!seconds_of_time(row.time))
    return wrong(ErrorCode::bad_time, "not a time", "time", row.time,
                 "RFC 3339, such as 2026-03-02T07:15:00Z");
  if (!row.revision.empty() && !parse_whole_number(row.revision, 1))
    return wrong(ErrorCode::bad_number, "not the number of a netlist", "revision", row.revision,
                 "a whole number from 1");
  Decision decision;
  decision.finding = row.finding, decision.readings = row.readings, decision.points = row.points;
  decision.decision = *kind;
  decision.text = row.text, decision.time = row.time, decision.by = row.by;
  decision.revision = row.revision, decision.id = row.id;
  decision.line = line;
  return decision;
}

std::optional<std::size_t> revision_of(const Decision& decision) {
  const auto number = parse_whole_number(decision.revision, 1);
  return number ? std::optional(static_cast<std::size_t>(*number)) : std::nullopt;
}

std::vector<std::string_view> listed(std::string_view text) {
  constexpr std::string_view k_between = "; ";
  std::vector<std::string_view> all;
  while (!text.empty()) {
    const std::size_t stop = std::min(text.find(k_between), text.size());
    all.push_back(text.substr(0, stop));
    text.remove_prefix(std::min(stop + k_between.size(), text.size()));
  }
  return all;
}

std::vector<std::size_t> last_decisions(const Decisions& decisions) {
  std::set<std::string_view> findings, readings;
  std::vector<std::size_t> last;
  for (std::size_t i = decisions.rows.size(); i-- > 0;) {
    const Decision& decision = decisions.rows[i];
    bool is_last = findings.insert(decision.finding).second;
    for (const std::string_view reading : listed(decision.readings))
      is_last &= readings.insert(reading).second;
    if (is_last) last.push_back(i);
  }
  std::reverse(last.begin(), last.end());
  return last;
}

std::vector<std::size_t> standing_decisions(const Decisions& decisions) {
  std::vector<std::size_t> standing = last_decisions(decisions);
  std::erase_if(standing,
                [&](std::size_t i) { return decisions.rows[i].decision == DecisionKind::withdrawn; });
  return standing;
}

}  // namespace ringtrue
