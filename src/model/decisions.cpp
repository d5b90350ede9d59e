#include "ringtrue/model/decisions.hpp"

#include <map>

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
  const auto number = parse_number(row.revision);
  if (!row.revision.empty() && (!number || *number < 1))
    return wrong(ErrorCode::bad_number, "not the number of a netlist", "revision", row.revision,
                 "a number from 1");
  Decision decision;
  decision.finding = row.finding, decision.readings = row.readings, decision.points = row.points;
  decision.decision = *kind;
  decision.text = row.text, decision.time = row.time, decision.by = row.by;
  decision.revision = row.revision, decision.id = row.id;
  decision.line = line;
  return decision;
}

std::vector<std::size_t> standing_decisions(const Decisions& decisions) {
  std::map<std::string_view, std::size_t> last;
  for (std::size_t i = 0; i < decisions.rows.size(); ++i) last[decisions.rows[i].finding] = i;
  std::vector<std::size_t> standing;
  for (std::size_t i = 0; i < decisions.rows.size(); ++i)
    if (last[decisions.rows[i].finding] == i && decisions.rows[i].decision != DecisionKind::withdrawn)
      standing.push_back(i);
  return standing;
}

}  // namespace ringtrue
