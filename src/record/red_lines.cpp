#include <filesystem>

#include "record/sheets.hpp"
#include "ringtrue/diagnose/decided.hpp"
#include "ringtrue/report/as_built_report.hpp"
#include "ringtrue/revise/as_built.hpp"

namespace ringtrue::record {

namespace {

std::string place_of(const AsBuiltRow& row) {
  if (row.change == Change::added) return "new";
  return std::filesystem::path(row.place.file).filename().string() + ":" + std::to_string(row.place.line);
}

}  // namespace

RecordSheet red_lines_sheet(const RecordSource& source) {
  RecordSheet sheet{
      "red_lines",
      "Red-lines",
      "The rows of the drawing to change where the panel is right and the drawing wrong: decided, "
      "or proposed where nothing is decided yet.",
      "No row of the drawing is to be changed.",
      {{"finding", "Finding", Kind::number},
       {"state", "State"},
       {"table", "Table"},
       {"row", "Row"},
       {"element", "Wire or part"},
       {"sheet", "Sheet"},
       {"change", "Change"}},
      {}};
  const Panel& panel = source.contents.panel;
  const DecidedFindings decided =
      decided_findings(panel.decisions, source.findings, source.graph, panel.readings);
  for (std::size_t c = 0; c < source.findings.clusters.size(); ++c) {
    const DecidedFinding* one = decided_of(decided.open, c);
    const std::vector<Diagnosis>& diagnoses = source.findings.clusters[c].diagnoses;
    if (diagnoses.empty()) continue;
    const bool is_decided = one != nullptr;
    if (is_decided && panel.decisions.rows[one->decision].decision != DecisionKind::drawing) continue;
    const std::vector<Fault> faults[] = {is_decided ? one->faults : diagnoses.front().faults};
    const RecordCell state =
        is_decided ? RecordCell{"decided", Tone::bad} : RecordCell{"proposed", Tone::open};
    const auto built = as_built(source.graph, faults, panel.readings, source.comparison);
    if (!built) {
      sheet.rows.push_back(
          {c + 1, RecordCell{"repair only", Tone::open}, "", "", "", "", built.error().front().message});
      continue;
    }
    for (const AsBuiltRow& row : built->rows)
      sheet.rows.push_back({c + 1, state, row.table, place_of(row), row.name, row.sheet, change_words(row)});
  }
  return sheet;
}

}  // namespace ringtrue::record
