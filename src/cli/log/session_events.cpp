#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/entry.hpp"
#include "ringtrue/live/repair.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "session.hpp"

// Repairs and temporary changes.

namespace ringtrue::cli::log {

namespace {

tl::unexpected<Errors> no_such(const std::string& what, std::size_t found, std::size_t all) {
  const std::string message = all == 0 ? "there is no " : "there is no such ";
  return fail({ErrorCode::bad_call,
               message + what,
               {},
               std::to_string(found),
               all == 0 ? "" : "a number from 1 to " + std::to_string(all),
               {}});
}

std::vector<Upcoming> to_take_again(LiveJob& live) {
  std::vector<Upcoming> readings = live.upcoming(live.state().comparison().stale);
  std::erase_if(readings, [](const Upcoming& reading) { return reading.why != Upcoming::Why::again; });
  return readings;
}

}  // namespace

Result<void> Session::log(EventRow row, const std::string& what) {
  const std::string time = time_now();
  row.time = time, row.by = options_.by;
  const auto id = numbering_.append(job_, row);
  if (!id) return tl::unexpected(id.error());
  std::string told = in_lines(what, id->size() + 2, 4);
  print_(told.replace(0, id->size(), *id));
  added(*id);
  catch_up();
  return {};
}

Result<void> Session::run(const LogRepair& typed) {
  const DiagnosisState& state = live_.state();
  const std::vector<Cluster>& findings = state.findings().clusters;
  if (typed.finding > findings.size()) return no_such("finding", typed.finding, findings.size());
  const auto repair = repair_of(findings[typed.finding - 1], live_.drawing()->graph, state.readings());
  if (!repair) return tl::unexpected(repair.error());
  EventRow row;
  row.kind = word(EventKind::repair), row.points = repair->points, row.text = repair->text;
  return log(row, "finding " + std::to_string(typed.finding) + " put right; clamps opened: " + repair->points)
      .map([&] {
        const std::vector<Upcoming> again = to_take_again(live_);
        if (!again.empty()) print_("To be read again:\n");
        show(again);
      });
}

Result<void> Session::run(const LogChange& typed) {
  const auto points = find_clamps(*live_.drawing(), typed.points);
  if (!points) return tl::unexpected(points.error());
  EventRow row;
  row.kind = word(EventKind::temporary_made), row.points = *points, row.text = typed.text;
  return log(row, *points + ": " + typed.text);
}

Result<void> Session::run(const EndChange& typed) {
  const std::vector<const Event*> open = open_temporary_changes(live_.events());
  if (typed.change > open.size()) return no_such("open change", typed.change, open.size());
  const Event& change = *open[typed.change - 1];
  std::string points;
  for (const std::string& point : change.points) points += (points.empty() ? "" : "; ") + point;
  const std::string text = "put back: " + change.text;
  EventRow row;
  row.kind = word(EventKind::temporary_undone), row.points = points, row.text = text;
  return log(row, points + ": " + text);
}

}  // namespace ringtrue::cli::log
