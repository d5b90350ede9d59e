#include <algorithm>
#include <cmath>
#include <set>
#include <span>

#include "record/decisions.hpp"
#include "record/sheets.hpp"
#include "ringtrue/compare/read_pairs.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/stale_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::record {

namespace {

/// The sentence with its files named without their folders, which say where the drawing lay and not what it
/// is.
std::string in_short(std::string text, std::span<const Fault> faults, const RecordSource& source) {
  for (const Fault& fault : faults)
    for (const FaultParts::Row& row : fault_parts(fault, source.graph, source.contents.panel.readings).rows)
      for (std::size_t at = text.find(row.file); at != text.npos && !row.file.empty();
           at = text.find(row.file, at)) {
        const std::string name = std::filesystem::path(row.file).filename().string();
        text.replace(at, row.file.size(), name);
        at += name.size();
      }
  return text;
}

/// Writes the items one after another, each with its number.
class PunchList {
 public:
  PunchList(const RecordSource& source, const RecordSheet& io)
      : source_(source), readings_(source.contents.panel.readings), decisions_(source), io_(io) {}

  [[nodiscard]] RecordSheet write() {
    sheet_ = {"punch",
              "Punch list",
              "What is to be settled before anybody signs, and what was repaired.",
              "Nothing is to be settled.",
              {{"number", "No.", Kind::number},
               {"state", "State"},
               {"kind", "Kind"},
               {"what", "What"},
               {"action", "To do"},
               {"drawing", "Or the drawing is wrong"},
               {"readings", "Readings"},
               {"settled_by", "Decided or settled by"},
               below("settled_at", "On", Kind::time)},
              {}};
    temporary_changes();
    findings();
    readings();
    io_failures();
    settled_findings();
    repairs();
    return std::move(sheet_);
  }

 private:
  void temporary_changes();
  void findings();
  void readings();
  void io_failures();
  void settled_findings();
  void repairs();
  void item(std::string_view kind, std::string what, std::string action, std::string drawing = {},
            std::string of_readings = {}) {
    sheet_.rows.push_back({sheet_.rows.size() + 1, RecordCell{"open", Tone::bad}, kind, std::move(what),
                           std::move(action), std::move(drawing), std::move(of_readings), "", ""});
  }
  [[nodiscard]] std::string names(const std::vector<ReadingId>& readings) const {
    std::vector<std::string> all;
    for (const ReadingId reading : readings) all.push_back(readings_.name(reading));
    return joined(all, ", ");
  }
  [[nodiscard]] std::string points_and_value(std::size_t reading) const {
    const Reading& row = readings_.rows[reading];
    return std::string(row.from) + (row.to.empty() ? "" : " to ") + std::string(row.to) + ", read " +
           std::string(readings_.text.get(ReadingText::value, reading));
  }

  const RecordSource& source_;
  const Readings& readings_;
  FindingDecisions decisions_;
  const RecordSheet& io_;
  RecordSheet sheet_;
};

void PunchList::temporary_changes() {
  for (const Event* event : open_temporary_changes(source_.contents.panel.events))
    item("temporary change", joined(event->points, "; ") + (event->text.empty() ? "" : ": " + event->text),
         "Undo it, log that it is undone, and take the readings again that it touched.");
}

void PunchList::findings() {
  for (std::size_t number = 0; number < source_.findings.clusters.size(); ++number) {
    const Cluster& cluster = source_.findings.clusters[number];
    if (cluster.diagnoses.empty()) {
      item("finding", "These readings contradict the drawing, and no few faults explain them.",
           "Take them again.", "", names(cluster.readings));
      continue;
    }
    const Diagnosis& likeliest = cluster.diagnoses.front();
    FaultWords words = fault_words(likeliest.faults, source_.graph, readings_);
    if (const std::size_t others = cluster.diagnoses.size() - 1; others != 0)
      words.text += " Likeliest, " + std::to_string(std::lround(likeliest.probability * 100)) + "%; " +
                    counted(others, "other explanation") + ".";
    if (const std::string_view label = remedy_label(likeliest); label != "Do")
      words.action.insert(0, std::string(label) + ": ");
    item("finding", std::move(words.text), std::move(words.action),
         in_short(std::move(words.drawing), likeliest.faults, source_), names(cluster.readings));
    decisions_.mark(sheet_, number);
  }
}

void PunchList::settled_findings() {
  for (Row& row : decisions_.settled(sheet_.rows.size())) sheet_.rows.push_back(std::move(row));
}

void PunchList::readings() {
  const std::vector<Standing>& standing = source_.comparison.standing;
  ReadPairs pairs(readings_, source_.comparison);
  for (std::size_t i = 0; i < standing.size(); ++i) {
    const std::string name = readings_.name(ReadingId{static_cast<std::uint32_t>(i)});
    if (standing[i] == Standing::unstable)
      item("unstable reading", points_and_value(i) + "; another reading of the same pair says otherwise.",
           "Look for a loose clamp, take it again, and withdraw the wrong one.", "", name);
    if (standing[i] == Standing::unknown_point)
      item("unknown reading", points_and_value(i) + "; the drawing lacks a point, part or meter it names.",
           "Correct or withdraw it, or complete the drawing.", "", name);
    if (standing[i] != Standing::stale) continue;
    const Probing& probing = source_.comparison.probings[i];
    const std::string& condition = readings_.conditions[readings_.rows[i].condition];
    if (probing.from != PointId::none && pairs.add(probing.from, probing.to, condition))
      item("stale reading", points_and_value(i) + "; " + why_stale(readings_, i) + ".", "Take it again.", "",
           name);
  }
}

void PunchList::io_failures() {
  std::set<std::string_view> told;
  for (const Row& row : io_.rows) {
    const auto text = [&](std::string_view key) -> const std::string& { return cell_of(io_, row, key).text; };
    if (text("shown") != word(IoVerdict::fail) || text("verdict") != word(IoVerdict::fail)) continue;
    if (!told.insert(text("channel")).second) continue;
    std::string what = text("channel") + (text("tag").empty() ? "" : " " + text("tag"));
    if (!text("expected").empty()) what += "; expected " + text("expected");
    if (!text("reason").empty()) what += "; " + text("reason");
    item("I/O test", std::move(what), "Find the cause, repair it, and test the channel again.");
  }
}

void PunchList::repairs() {
  for (const Event& event : source_.contents.panel.events.rows)
    if (event.kind == EventKind::repair)
      sheet_.rows.push_back({sheet_.rows.size() + 1, RecordCell{"repaired", Tone::good}, "repair",
                             joined(event.points, "; ") + (event.text.empty() ? "" : ": " + event.text), "",
                             "", "", event.by, event.time});
}

}  // namespace

RecordSheet punch_sheet(const RecordSource& source, const RecordSheet& io) {
  return PunchList(source, io).write();
}

}  // namespace ringtrue::record
