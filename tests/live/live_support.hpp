#pragma once
#include <cstdio>
#include <string>

#include "job/job_support.hpp"
#include "ringtrue/live/live_job.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/next_report.hpp"
#include "ringtrue/write/write.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {

/// A row that owns its texts.
struct OwnRow {
  std::string from, to, value, conditions = {}, time = {}, id = {}, meter = {};
  [[nodiscard]] ReadingRow row() const {
    ReadingRow row;
    row.from = from, row.to = to, row.value = value, row.conditions = conditions, row.time = time;
    row.id = id, row.meter = meter;
    return row;
  }
};

/// A job in a folder of its own, and what follows from it.
class LiveTest : public testing_support::JobTest {
 protected:
  /// The text as `netlist()` takes it, written as files.
  std::filesystem::path written(const std::string& text) {
    const auto folder = at("netlist-" + std::to_string(++count_));
    if (const auto done = write_netlist(netlist(text), folder); !done)
      throw std::runtime_error(to_text(done.error().front()));
    return folder;
  }
  Job job_of(const std::filesystem::path& netlist_path) {
    return must(create_job(at("a.rtj"), {netlist_path}));
  }
  Job another() { return must(open_job(at("a.rtj"))); }
  LiveJob live(const LiveOptions& options = {}) { return must(LiveJob::open(another(), options)); }

  std::string next_id() { return "T" + std::to_string(++count_); }
  /// A second later each time.
  std::string next_time() {
    const int s = ++seconds_;
    char text[32];
    std::snprintf(text, sizeof text, "2026-03-02T%02d:%02d:%02dZ", 7 + s / 3600, s / 60 % 60, s % 60);
    return text;
  }

  /// Appends it with a new id and time. Gives the id.
  std::string take(Job& job, OwnRow row, const std::string& supersedes = "") {
    if (row.id.empty()) row.id = next_id();
    if (row.time.empty()) row.time = next_time();
    must(job.append(row.row(), supersedes));
    return row.id;
  }
  void withdraw(Job& job, const std::string& id) {
    const auto row = must(job.find_reading(id));
    take(job, {row->from, row->to, ""}, id);
  }
  void happen(Job& job, std::string_view kind, const std::string& points) {
    const std::string id = next_id(), time = next_time();
    must(job.append(event(id, kind, points, time)));
  }

  /// All that follows from the job, but for the work it took.
  static std::string everything(LiveJob& live, const DiagnoseOptions& options) {
    const ConductionGraph& graph = live.drawing()->graph;
    const DiagnosisState& state = live.state();
    Findings findings = state.findings();
    findings.nodes_expanded = findings.nets_relabelled = 0;
    const ReadingNotes notes = note_readings(graph, state.readings(), state.comparison(), findings.proven, 6);
    std::string text =
        compare_json({graph, state.readings(), state.comparison(), findings, notes, options, live.next()});
    text += next_json({graph, state.readings(), findings, live.next(), options});
    for (const std::uint8_t proven : findings.proven) text += proven != 0 ? '1' : '0';
    for (const Upcoming& reading : live.upcoming(100'000)) text += "\n" + line_of(reading);
    const LiveJob::Progress progress = live.progress();
    text += "\n" + std::to_string(progress.done) + " of " + std::to_string(progress.planned) + ", " +
            std::to_string(live.events().rows.size()) + " events, " +
            std::to_string(live.meters().rows.size()) + " meters";
    return text;
  }

  static std::string line_of(const Upcoming& reading) {
    std::string text =
        std::string(word(reading.why)) + " " + reading.from + " " + reading.to + " [" + reading.conditions +
        "] " + std::string(word(reading.expected)) + " " + std::to_string(reading.ohms.lo.value) + " " +
        std::to_string(reading.ohms.hi.value) + " " + std::to_string(reading.finding) + " " +
        std::to_string(index(reading.from_point)) + " " + std::to_string(index(reading.to_point)) + ":";
    for (const ElementId e : reading.proves) text += " " + std::to_string(index(e));
    return text;
  }

 private:
  int count_ = 0, seconds_ = 0;
};

}  // namespace ringtrue::testing
