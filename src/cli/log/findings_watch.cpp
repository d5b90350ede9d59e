#include "findings_watch.hpp"

#include <algorithm>
#include <optional>

#include "ringtrue/report/next_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::cli::log {

namespace {

bool have_one_in_common(const std::vector<std::string>& a, const std::vector<std::string>& b) {
  return std::find_first_of(a.begin(), a.end(), b.begin(), b.end()) != a.end();
}

std::string next_of(const NextReading& next, const CompareReport& report) {
  if (next.state != NextState::reading) return std::string(word(next.state));
  const NextPoints points = points_of(next, report.graph, report.readings);
  return points.from + " " + points.to + " " + next.conditions;
}

}  // namespace

CompareReport report_of(const LiveJob& live, const DiagnoseOptions& options) {
  static const ReadingNotes no_notes;
  const DiagnosisState& state = live.state();
  return {live.drawing()->graph,
          state.readings(),
          state.comparison(),
          state.findings(),
          no_notes,
          options,
          live.next()};
}

std::vector<FindingsWatch::Told> FindingsWatch::all_of(const CompareReport& report) {
  std::vector<Told> all;
  for (std::size_t i = 0; i < report.findings.clusters.size(); ++i) {
    const Cluster& cluster = report.findings.clusters[i];
    Told told;
    for (const ReadingId reading : cluster.readings) told.readings.push_back(report.readings.name(reading));
    told.what = cluster.diagnoses.empty()
                    ? "nothing explains it"
                    : fault_words(cluster.diagnoses.front().faults, report.graph, report.readings).text;
    told.rest = std::to_string(cluster.diagnoses.size()) + " " + next_of(report.next[i], report);
    for (const std::string& id : told.readings) told.rest += " " + id;
    all.push_back(std::move(told));
  }
  return all;
}

std::string FindingsWatch::news(const LiveJob& live, const DiagnoseOptions& options) {
  const CompareReport report = report_of(live, options);
  std::vector<Told> now = all_of(report);
  std::vector<bool> is_there(told_.size());
  std::string gone, moved, there;
  for (std::size_t i = 0; i < now.size(); ++i) {
    std::optional<std::size_t> before;
    for (std::size_t k = 0; k < told_.size(); ++k) {
      if (!have_one_in_common(told_[k].readings, now[i].readings)) continue;
      is_there[k] = true;
      if (!before) before = k;
    }
    const std::string in_short = finding_in_short(report, i);
    if (!before || told_[*before].what != now[i].what)
      there += (before ? "Changed: " : "") + in_short;
    else if (told_[*before].rest != now[i].rest)
      there += in_short.substr(0, in_short.find('\n')) + ": stands\n";
    if (before && *before != i)
      moved += "Finding " + std::to_string(*before + 1) + " is finding " + std::to_string(i + 1) + " now.\n";
  }
  for (std::size_t k = 0; k < told_.size(); ++k)
    if (!is_there[k])
      gone += in_lines("Finding " + std::to_string(k + 1) + " is gone: " + told_[k].what, 0, 2);
  told_ = std::move(now);
  return gone + moved + there;
}

}  // namespace ringtrue::cli::log
