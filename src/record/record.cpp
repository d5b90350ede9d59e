#include "ringtrue/record/record.hpp"

#include <algorithm>
#include <array>

#include "record/decisions.hpp"
#include "record/pictures.hpp"
#include "record/sheets.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace record {

const RecordCell& cell_of(const RecordSheet& sheet, const Row& row, std::string_view key) {
  const auto column = std::find_if(sheet.columns.begin(), sheet.columns.end(),
                                   [&](const RecordColumn& one) { return one.key == key; });
  return row.at(static_cast<std::size_t>(column - sheet.columns.begin()));
}

std::string joined(const std::vector<std::string>& texts, std::string_view between) {
  std::string all;
  for (const std::string& text : texts) {
    if (!all.empty()) all += between;
    all += text;
  }
  return all;
}

std::string counted(std::size_t number, std::string_view noun) {
  return std::to_string(number) + " " + std::string(noun) + (number == 1 ? "" : "s");
}

namespace {

constexpr std::array<std::string_view, 9> k_cautions = {
    "Every verdict is relative to this revision: what agrees with the drawing is wired as drawn, no more.",
    "Nothing here says that a circuit is dead or safe. Stop and guard circuits were not validated.",
    "Continuity shows nothing of insulation, torque, crimps, ratings or the right part.",
    "Prove dead before any continuity reading.",
    "Unplug electronics before insulation tests, and discharge afterwards.",
    "A jumper is an insulated, fused test lead. No jumper on safety functions.",
    "For I/O tests power is limited and fused, and moving machinery disconnected.",
    "Local codes, the site's isolation procedure and licensed persons decide.",
    "A signature is a person's: whoever signs has read what was not tested."};

/// Beside the others where it is so.
constexpr std::string_view k_some_accepted =
    "Findings were accepted as they are; by whom and why stands in the punch list.";

void put_times(Record& record, const Panel& panel) {
  std::optional<double> first, last;
  const auto take = [&](std::string_view time) {
    const auto seconds = seconds_of_time(time);
    if (!seconds) return;
    if (!first || *seconds < *first) first = seconds, record.first_time = time;
    if (!last || *seconds > *last) last = seconds, record.last_time = time;
  };
  for (std::size_t i = 0; i < panel.readings.rows.size(); ++i)
    take(panel.readings.text.get(ReadingText::time, i));
  for (const Event& event : panel.events.rows) take(event.time);
  for (const IoResult& result : panel.io_results.rows) take(result.time);
  for (const Decision& decision : panel.decisions.rows) take(decision.time);
}

bool has_state(const RecordSheet& punch, std::string_view state) {
  return std::any_of(punch.rows.begin(), punch.rows.end(),
                     [&](const Row& row) { return cell_of(punch, row, "state").text == state; });
}

/// Whatever is open on the punch list, by kind in its order.
std::vector<std::string> holds_of(const RecordSheet& punch, const Panel& panel) {
  std::vector<std::pair<std::string, std::size_t>> open;
  for (const Row& row : punch.rows) {
    if (!is_to_be_settled(cell_of(punch, row, "state").text)) continue;
    const std::string& kind = cell_of(punch, row, "kind").text;
    const auto there =
        std::find_if(open.begin(), open.end(), [&](const auto& one) { return one.first == kind; });
    if (there == open.end())
      open.emplace_back(kind, 1);
    else
      ++there->second;
  }
  std::vector<std::string> holds;
  if (panel.readings.rows.empty() && panel.io_results.rows.empty()) holds.push_back("Nothing was tested.");
  for (const auto& [kind, number] : open) holds.push_back("To be settled: " + counted(number, kind) + ".");
  if (has_state(punch, k_accepted_with_role))
    holds.push_back("What touches a circuit with a safety role is repaired or drawn, not accepted.");
  return holds;
}

std::vector<std::string> not_tested_of(const RecordSheet& coverage) {
  std::vector<std::string> lines;
  for (const Row& row : coverage.rows)
    if (const std::size_t left = cell_of(coverage, row, "not_tested").number.value_or(0); left != 0)
      lines.push_back(cell_of(coverage, row, "what").text + ": " + std::to_string(left) + " of " +
                      std::to_string(cell_of(coverage, row, "all").number.value_or(0)));
  return lines;
}

}  // namespace

}  // namespace record

Record make_record(const RecordSource& source) {
  const JobContents& contents = source.contents;
  const PanelInfo& panel = source.graph.netlist().panel;
  Record made;
  made.panel = panel.name, made.revision = panel.revision, made.drawing = panel.drawing;
  made.label = panel_label(panel);
  made.netlist_number = made.netlists = contents.netlists.size();
  made.files = contents.netlists.back().files;
  made.netlist_sha256 = contents.netlists.back().sha256;
  made.readings_sha256 = contents.readings_sha256;
  made.tool_version = source.tool_version;
  record::put_times(made, contents.panel);
  made.cautions.assign(record::k_cautions.begin(), record::k_cautions.end());
  made.signatures = record::signatures_of(contents);

  RecordSheet io = record::io_sheet(source);
  RecordSheet punch = record::punch_sheet(source, io);
  RecordSheet certificate = record::certificate_sheet(source);
  made.holds = record::holds_of(punch, contents.panel);
  if (record::has_state(punch, "accepted")) made.cautions.push_back(record::k_some_accepted);
  made.sheets.push_back(record::coverage_sheet(source, io, certificate));
  made.not_tested = record::not_tested_of(made.sheets.back());
  made.sheets.push_back(std::move(punch));
  made.sheets.push_back(record::temporary_sheet(source));
  made.sheets.push_back(record::red_lines_sheet(source));
  made.sheets.push_back(record::buzz_out_sheet(source));
  made.sheets.push_back(std::move(io));
  made.sheets.push_back(record::bonding_sheet(source));
  made.sheets.push_back(record::insulation_sheet(source));
  made.sheets.push_back(record::readings_sheet(source));
  made.sheets.push_back(record::instruments_sheet(source));
  made.sheets.push_back(record::people_sheet(source));
  made.sheets.push_back(std::move(certificate));
  record::put_pictures(made, source);
  return made;
}

}  // namespace ringtrue
