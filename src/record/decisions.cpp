#include "record/decisions.hpp"

#include <algorithm>
#include <array>

#include "ringtrue/compare/opened_clamps.hpp"
#include "ringtrue/model/condition.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::record {

namespace {

constexpr std::array<std::string_view, 4> k_to_be_settled = {"open", "repair decided",
                                                             "drawing to be changed", k_accepted_with_role};

/// Of a decision that no longer says what is found.
constexpr std::string_view k_found_otherwise = "found otherwise now";

RecordCell& cell_under(RecordSheet& sheet, std::string_view key) {
  const auto column = std::find_if(sheet.columns.begin(), sheet.columns.end(),
                                   [&](const RecordColumn& one) { return one.key == key; });
  return sheet.rows.back().at(static_cast<std::size_t>(column - sheet.columns.begin()));
}

std::string with_reason(const std::string& text, const Decision& decision) {
  return text + (decision.text.empty() ? "" : " " + decision.by + ": " + decision.text);
}

}  // namespace

bool is_to_be_settled(std::string_view state) {
  return std::find(k_to_be_settled.begin(), k_to_be_settled.end(), state) != k_to_be_settled.end();
}

FindingDecisions::FindingDecisions(const RecordSource& source)
    : source_(source),
      decisions_(source.contents.panel.decisions),
      decided_(decided_findings(decisions_, source.findings, source.graph, source.contents.panel.readings)) {}

void FindingDecisions::mark(RecordSheet& punch, std::size_t cluster) const {
  const DecidedFinding* decided = decided_of(decided_.open, cluster);
  if (decided == nullptr) return;
  const Decision& decision = decisions_.rows[decided->decision];
  if (decided->faults != source_.findings.clusters[cluster].diagnoses.front().faults)
    cell_under(punch, "what") =
        RecordCell{fault_words(decided->faults, source_.graph, source_.contents.panel.readings).text +
                   " Decided to be so, though it is not the likeliest explanation."};
  RecordCell& action = cell_under(punch, "action");
  RecordCell& state = cell_under(punch, "state");
  switch (decision.decision) {
    case DecisionKind::repair:
      state = RecordCell{"repair decided", Tone::bad};
      action = RecordCell{with_reason(action.text, decision)};
      break;
    case DecisionKind::drawing:
      state = RecordCell{"drawing to be changed", Tone::bad};
      action = RecordCell{with_reason("Change the drawing: see the red-lines.", decision)};
      break;
    default: {
      const bool has_role = touches_role(decided->faults, source_.graph);
      state = has_role ? RecordCell{std::string(k_accepted_with_role), Tone::bad}
                       : RecordCell{"accepted", Tone::open};
      if (!has_role) action = RecordCell{"Nothing: accepted."};
      action = RecordCell{with_reason(action.text, decision)};
    }
  }
  cell_under(punch, "settled_by") = RecordCell{decision.by};
  cell_under(punch, "settled_at") = RecordCell{decision.time};
}

bool FindingDecisions::is_found_still(const Decision& decision) const {
  const Readings& readings = source_.contents.panel.readings;
  const auto is_in = [](const std::vector<std::string_view>& all, std::string_view one) {
    return std::find(all.begin(), all.end(), one) != all.end();
  };
  const std::vector<std::string_view> explained = listed(decision.readings),
                                      faults = listed(decision.finding);
  for (const Cluster& cluster : source_.findings.clusters) {
    for (const ReadingId reading : cluster.readings)
      if (is_in(explained, readings.name(reading))) return true;
    if (cluster.diagnoses.empty()) continue;
    const std::string now = finding_name(cluster.diagnoses.front().faults, source_.graph, readings);
    for (const std::string_view fault : listed(now))
      if (is_in(faults, fault)) return true;
  }
  return false;
}

std::string_view FindingDecisions::how_settled(const Decision& decision) const {
  if (is_found_still(decision)) return k_found_otherwise;
  const std::vector<JobNetlist>& netlists = source_.contents.netlists;
  std::size_t revision = revision_of(decision).value_or(netlists.size());
  for (; decision.decision == DecisionKind::drawing && revision < netlists.size(); ++revision)
    if (netlists[revision].is_as_built) return "drawing changed";
  if (decision.is_outdated) return "no longer found";  // its names are of another revision
  return decision.decision == DecisionKind::repair && is_repaired(decision) ? "repaired" : "no longer found";
}

bool FindingDecisions::is_repaired(const Decision& decision) const {
  const Netlist& netlist = source_.graph.netlist();
  std::vector<PointId> clamps;
  for (const std::string_view point : listed(decision.points))
    if (const auto found = find_point(point, netlist)) clamps.push_back(found->point);
  Events later;
  for (const Event& event : source_.contents.panel.events.rows)
    if (event.kind == EventKind::repair && *seconds_of_time(event.time) >= *seconds_of_time(decision.time))
      later.rows.push_back(event);
  Errors unknown_clamps_which_compare_tells;
  const std::vector<OpenedClamps> opened = opened_clamps(later, netlist, unknown_clamps_which_compare_tells);
  return std::any_of(opened.begin(), opened.end(), [&](const OpenedClamps& event) {
    return std::find_first_of(event.points.begin(), event.points.end(), clamps.begin(), clamps.end()) !=
           event.points.end();
  });
}

std::vector<Row> FindingDecisions::settled(std::size_t rows_before) const {
  std::vector<Row> rows;
  for (const std::size_t i : decided_.gone) {
    const Decision& decision = decisions_.rows[i];
    const std::string state(how_settled(decision));
    std::string readings = decision.readings;
    std::replace(readings.begin(), readings.end(), ';', ',');
    const bool is_found = state == k_found_otherwise;
    rows.push_back({rows_before + rows.size() + 1, RecordCell{state, is_found ? Tone::open : Tone::good},
                    "finding", decision.finding, is_found ? "Decide again." : decision.text, "",
                    std::move(readings), decision.by, decision.time});
  }
  return rows;
}

}  // namespace ringtrue::record
