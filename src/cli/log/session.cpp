#include "session.hpp"

#include <algorithm>

#include "ringtrue/base/nearest_names.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/model/condition.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::cli::log {

namespace {

constexpr std::string_view k_caution =
    "Prove the panel dead before continuity tests. Local codes, the site's isolation procedure and licensed "
    "persons decide.";

std::string key_of(const Upcoming& reading) {
  return reading.from + " " + reading.to + " " + reading.conditions;
}

bool has_later_readings(const Readings& readings) {
  const double now = seconds_of_time(time_now()).value_or(0);
  for (std::size_t i = 0; i < readings.rows.size(); ++i)
    if (seconds_of_time(readings.text.get(ReadingText::time, i)).value_or(0) > now) return true;
  return false;
}

/// Readings that name a meter of which the job knows nothing could not be judged.
Result<void> look_for_meter(std::string_view name, const Meters& meters) {
  if (name.empty() || meters.rows.empty()) return {};
  NearestNames nearest(name);
  for (const Meter& meter : meters.rows) {
    if (meter.name == name) return {};
    nearest.offer(meter.name);
  }
  return fail({ErrorCode::unknown_object,
               "the job has no such meter",
               {"", 0, "", "meter"},
               std::string(name),
               "a meter of the job",
               nearest.take()});
}

}  // namespace

Result<Session> Session::open(const std::filesystem::path& path, const Options& options, Print print) {
  auto job = open_job(path);
  if (!job) return tl::unexpected(std::move(job.error()));
  auto numbering = Numbering::of(*job);
  if (!numbering) return tl::unexpected(std::move(numbering.error()));
  auto newest = job->journal(1);
  if (!newest) return tl::unexpected(std::move(newest.error()));
  auto live =
      open_job(path).and_then([&](Job shared) { return LiveJob::open(std::move(shared), options.live); });
  if (!live) return tl::unexpected(std::move(live.error()));
  if (auto known = look_for_meter(options.meter, live->meters()); !known)
    return tl::unexpected(std::move(known.error()));
  Session session(std::move(*job), std::move(*live), *numbering, options, std::move(print));
  if (!newest->empty()) session.last_row_ = newest->front().id;
  session.events_told_ = session.live_.events().rows.size();
  session.drawing_told_ = session.live_.drawing();
  session.outdated_told_ = session.live_.state().readings().outdated.size();
  for (const IoResult& result : session.live_.io_results().rows) session.results_told_.insert(result.id);
  return session;
}

void Session::begin() {
  print_(in_lines(k_caution, 0, 0));
  print_(panel_label(netlist().panel) + ": " + counted(live_.state().readings().rows.size(), "reading") +
         ", by " + options_.by + (options_.meter.empty() ? "" : " with " + options_.meter) +
         "; help lists what can be typed\n");
  if (has_later_readings(live_.state().readings()))
    print_(
        "Some readings are later than this machine's clock: set it, or repairs are taken for older than they "
        "are.\n");
  print_(open_changes(live_.events()));
  print_(watch_.news(live_, options_.live.diagnose));
}

Result<void> Session::take(std::string_view line) {
  const auto command = parse_line(line);
  if (!command) return tl::unexpected(command.error());
  return std::visit([this](const auto& typed) { return run(typed); }, *command);
}

void Session::propose() {
  catch_up();
  if (const auto& reading = proposed())
    show(*reading);
  else
    print_("No further reading is proposed.\n");
}

void Session::show(const Upcoming& reading) {
  print_(proposal(reading, condition_, live_.drawing()->graph, options_.colour));
  shown_.insert(key_of(reading));
}

void Session::show(const std::vector<Upcoming>& readings) {
  print_(list_of_upcoming(readings));
  for (const Upcoming& reading : readings) shown_.insert(key_of(reading));
}

bool Session::was_shown(const Upcoming& reading) const { return shown_.contains(key_of(reading)); }

std::string Session::prompt() const {
  std::string text = condition_.empty() ? "at rest" : condition_words(condition_, Detail::short_lists);
  const std::size_t open = open_temporary_changes(live_.events()).size();
  if (open != 0) text += ", " + counted(open, "change") + " open";
  if (!note_.empty()) text += ", with a note";
  return text + "> ";
}

void Session::end() {
  const std::size_t findings = live_.state().findings().clusters.size();
  print_(counted(own_.size(), "row") + " added here; the job has " + counted(findings, "finding") + ".\n");
}

bool Session::is_good() const {
  const DiagnosisState& state = live_.state();
  return state.findings().clusters.empty() && state.comparison().unknown == 0 &&
         state.comparison().unstable == 0;
}

const std::optional<Upcoming>& Session::proposed() {
  if (is_proposed_) return proposed_;
  proposed_.reset();
  const std::vector<Upcoming> all = live_.upcoming(skipped_.size() + 1);
  const auto first =
      std::find_if(all.begin(), all.end(), [&](const Upcoming& r) { return !skipped_.contains(key_of(r)); });
  if (first != all.end()) {
    proposed_ = *first;
  } else if (!all.empty()) {
    skipped_.clear();
    proposed_ = all.front();
    print_("Only what was skipped is left.\n");
  }
  is_proposed_ = true;
  return proposed_;
}

Result<void> Session::run(const Skip&) {
  if (const auto& reading = proposed()) skipped_.insert(key_of(*reading));
  is_proposed_ = false;
  return {};
}

Result<void> Session::run(const ShowNext& typed) {
  show(live_.upcoming(typed.most));
  return {};
}

Result<void> Session::run(const When& typed) {
  const auto condition = parse_condition(typed.condition, netlist());
  if (!condition) return tl::unexpected(condition.error());
  condition_ = typed.condition;
  print_(condition_.empty()
             ? "Everything at rest from now on.\n"
             : in_lines("Until rest: " + to_be_done(condition_, Detail::everything) + ".", 0, 2));
  return {};
}

Result<void> Session::run(const TakeOver&) {
  if (const auto& reading = proposed()) return run(When{reading->conditions});
  return fail({ErrorCode::bad_call,
               "no reading is proposed, so there is no condition to take over",
               {},
               "",
               "when CONDITION",
               {}});
}

Result<void> Session::run(const Put& typed) {
  switch (typed.field) {
    case Put::Field::by:
      options_.by = typed.text;
      return {};
    case Put::Field::meter:
      return look_for_meter(typed.text, live_.meters()).map([&] { options_.meter = typed.text; });
    case Put::Field::witness:
      options_.witness = typed.text;
      return {};
    case Put::Field::note:
      note_ = typed.text;
      return {};
  }
  return {};
}

Result<void> Session::run(const ShowFindings&) {
  const CompareReport report = report_of(live_, options_.live.diagnose);
  std::string text;
  for (std::size_t i = 0; i < report.findings.clusters.size(); ++i) text += finding_text(report, i);
  print_(text.empty() ? "No findings.\n" : text);
  return {};
}

Result<void> Session::run(const ShowState&) {
  print_(progress(live_));
  std::string here = "  here      " + counted(own_.size(), "row") + " added, by " + options_.by;
  for (const auto& [what, text] :
       {std::pair{"meter", options_.meter}, std::pair{"witness", options_.witness}})
    if (!text.empty()) here += std::string(", ") + what + " " + text;
  print_(here + "\n" + open_changes(live_.events()));
  return {};
}

Result<void> Session::run(const ShowLast& typed) {
  const auto rows = job_.journal(typed.most);
  if (!rows) return tl::unexpected(rows.error());
  std::string text;
  for (auto row = rows->rbegin(); row != rows->rend(); ++row) text += journal_line(*row);
  print_(text.empty() ? "No readings yet.\n" : text);
  return {};
}

Result<void> Session::run(const ShowHelp&) {
  print_(help_text());
  return {};
}

Result<void> Session::run(const Quit&) {
  is_over_ = true;
  return {};
}

}  // namespace ringtrue::cli::log
