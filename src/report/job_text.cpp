#include <algorithm>

#include "report/text_layout.hpp"
#include "ringtrue/report/job_report.hpp"
#include "ringtrue/report/signature_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace {

using report::append_entry;
using report::counted;

constexpr std::size_t k_label_width = 20;

std::string netlist_text(const JobContents& contents) {
  const Netlist& netlist = contents.panel.netlist;
  std::string text = contents.netlists.back().path + ", " + counted(netlist.conductors.size(), "conductor") +
                     ", " + counted(netlist.channels.size(), "channel");
  if (contents.netlists.size() > 1)
    text += "; the newest of " + std::to_string(contents.netlists.size()) + " revisions";
  return text;
}

/// Which revisions there are, where there are several.
void append_revisions(std::string& out, const std::vector<JobNetlist>& netlists) {
  if (netlists.size() == 1) return;
  out += "  readings under\n";
  for (std::size_t i = 0; i < netlists.size(); ++i)
    report::append_wrapped(out,
                           "revision " + std::to_string(i + 1) + ": " + std::to_string(netlists[i].readings) +
                               ", " + netlists[i].path + (netlists[i].is_as_built ? ", as built" : ""),
                           4, 6);
}

/// The last by time; among those of one time, or without any, the last that was added.
std::string last_reading_text(const Readings& readings) {
  if (readings.rows.empty()) return "none";
  const auto seconds = [&](std::size_t at) {
    return seconds_of_time(readings.text.get(ReadingText::time, at)).value_or(0);
  };
  std::size_t last = 0;
  for (std::size_t i = 1; i < readings.rows.size(); ++i)
    if (seconds(i) >= seconds(last)) last = i;
  const Reading& reading = readings.rows[last];
  const auto text = [&](ReadingText field) { return std::string(readings.text.get(field, last)); };
  std::string all = readings.name(ReadingId{static_cast<std::uint32_t>(last)}) + ": " +
                    std::string(reading.from) + (reading.to.empty() ? "" : " to ") + std::string(reading.to) +
                    ", " + text(ReadingText::value);
  for (const ReadingText field : {ReadingText::by, ReadingText::time})
    if (!text(field).empty()) all += ", " + text(field);
  return all;
}

void append_open_changes(std::string& out, const Events& events) {
  const std::vector<const Event*> open = open_temporary_changes(events);
  append_entry(out, 2, "temporary changes", k_label_width,
               open.empty() ? "none open" : std::to_string(open.size()) + " still open:");
  for (const Event* event : open) {
    std::string text = report::joined(event->points, "; ") + ", " + event->by + ", " + event->time;
    if (!event->text.empty()) text += ": " + event->text;
    report::append_wrapped(out, text, 4, 6);
  }
}

/// The last of each role.
void append_signatures(std::string& out, const JobContents& contents) {
  const std::vector<Signature>& all = contents.signatures.rows;
  append_entry(out, 2, "signatures", k_label_width,
               all.empty() ? "none" : std::to_string(all.size()) + "; the last of each role:");
  for (const auto& last : last_signatures(contents.signatures)) {
    if (!last) continue;
    std::string text = signature_words(all[*last]);
    for (const std::string& reservation : signature_reservations(all[*last], contents))
      text += "; " + reservation;
    report::append_wrapped(out, text, 4, 6);
  }
}

}  // namespace

std::string job_text(const JobContents& contents, const std::filesystem::path& job) {
  const Panel& panel = contents.panel;
  std::string out = panel_label(panel.netlist.panel) + ": " + job.string() + "\n";
  const auto entry = [&](std::string_view label, const std::string& text) {
    append_entry(out, 2, label, k_label_width, text);
  };
  entry("netlist", netlist_text(contents));
  entry("SHA-256", contents.netlists.back().sha256);
  entry("of the files", report::joined(contents.netlists.back().files));
  entry("readings", std::to_string(panel.readings.rows.size()) + " current, " +
                        std::to_string(contents.superseded_readings) + " superseded, " +
                        std::to_string(contents.withdrawn_readings) + " withdrawn");
  append_revisions(out, contents.netlists);
  entry("last reading", last_reading_text(panel.readings));
  entry("events", std::to_string(panel.events.rows.size()));
  entry("meters", std::to_string(panel.meters.rows.size()));
  entry("I/O results", std::to_string(panel.io_results.rows.size()));
  entry("decisions", std::to_string(standing_decisions(panel.decisions).size()) + " standing");
  append_signatures(out, contents);
  append_open_changes(out, panel.events);
  return out;
}

std::string import_text(const JobRowCounts& added, const JobRows& rows, const std::filesystem::path& job) {
  std::string out;
  const auto line = [&](const auto& table, std::size_t count, std::string_view kind) {
    if (table)
      out += job.string() + ": " + counted(count, kind) + " added, " +
             std::to_string(table->rows.size() - count) + " there already\n";
  };
  line(rows.readings, added.readings, "reading");
  line(rows.events, added.events, "event");
  line(rows.meters, added.meters, "meter");
  line(rows.io_results, added.io_results, "I/O result");
  line(rows.decisions, added.decisions, "decision");
  line(rows.signatures, added.signatures, "signature");
  return out;
}

std::string revise_text(Appended appended, const JobContents& contents, std::size_t again,
                        const std::filesystem::path& job) {
  const std::string number = std::to_string(contents.netlists.size());
  std::string out = job.string() + ": " +
                    (appended == Appended::added
                         ? "revision " + number + " of the netlist added" +
                               (contents.netlists.back().is_as_built ? ", as built\n" : "\n")
                         : "revision " + number + " of the netlist has these very files; nothing added\n");
  append_entry(out, 2, "SHA-256", k_label_width, contents.netlists.back().sha256);
  append_entry(out, 2, "of the files", k_label_width, report::joined(contents.netlists.back().files));
  if (appended == Appended::added && !contents.panel.readings.rows.empty())
    append_entry(out, 2, "what stays proven", k_label_width,
                 "ringtrue retest " + contents.netlists.rbegin()[1].path + " " +
                     contents.netlists.back().path + " " + job.string());
  if (again != 0)
    append_entry(out, 2, "to be read again", k_label_width,
                 std::to_string(again) + " of " + counted(contents.panel.readings.rows.size(), "reading") +
                     "; ringtrue compare " + job.string() + " says which and why");
  return out;
}

std::string export_text(const std::filesystem::path& job, const std::filesystem::path& folder) {
  return job.string() + ": written to " + folder.string() +
         "\n  readings.csv, events.csv, meters.csv, results.csv, decisions.csv, signatures.csv,\n"
         "  and the files of the netlist in netlist\n";
}

}  // namespace ringtrue
