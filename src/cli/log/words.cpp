#include "words.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include "command.hpp"
#include "ringtrue/live/io_test.hpp"
#include "ringtrue/report/panel_words.hpp"

namespace ringtrue::cli::log {

namespace {

constexpr std::size_t k_few_proven = 4;

std::string bold(const std::string& text, Colour colour) {
  return colour == Colour::on ? "\x1b[1m" + text + "\x1b[0m" : text;
}
std::string red(const std::string& text, Colour colour) {
  return colour == Colour::on ? "\x1b[1;31m" + text + "\x1b[0m" : text;
}

std::string with_place(const std::string& name, PointId point, const ConductionGraph& graph, Colour colour) {
  const std::string place = point_place(point, graph, Detail::short_lists);
  return bold(name, colour) + (place.empty() ? "" : "  (" + place + ")");
}

std::string why_words(const Upcoming& reading, const ConductionGraph& graph) {
  switch (reading.why) {
    case Upcoming::Why::again:
      return "once more: its clamps were opened since";
    case Upcoming::Why::finding:
      return "tells what may be behind finding " + std::to_string(reading.finding + 1);
    case Upcoming::Why::plan:
      break;
  }
  if (reading.proves.empty())
    return reading.expected == Expected::open ? "shows whether they are apart"
                                              : "shows whether they are joined";
  const std::size_t all = reading.proves.size();
  return "proves " + list_of(reading.proves, graph, all <= k_few_proven + 1 ? all : k_few_proven);
}

/// What leads from the one condition to the other, and how the tool is told.
std::string before_reading(std::string_view now, std::string_view wanted) {
  if (wanted.empty()) return "first bring all to rest, then type rest";
  std::string text = "first ";
  if (!now.empty()) text += "bring all to rest, then ";
  return text + to_be_done(wanted, Detail::everything) + "; then type set";
}

std::string judged(const Entry& entry, const Drawing& drawing, Colour colour) {
  switch (entry.standing()) {
    case Standing::agrees:
      return "agrees";
    case Standing::disagrees:
      return red("contradicts the drawing", colour) + ": " +
             read_and_drawn(drawing.graph, entry.reading, entry.comparison, ReadingId{0});
    default:
      break;
  }
  if (entry.reading.rows.front().value.kind >= ValueKind::volts)
    return "noted; it judges no wire, and helps ringtrue locate";
  return "fits either way, " + drawn_words(drawing.graph, entry.reading, entry.comparison, ReadingId{0});
}

/// Nothing before the first test.
std::string tested(const LiveJob& live) {
  if (live.io_results().rows.empty()) return {};
  const ConductionGraph& graph = live.drawing()->graph;
  std::vector<std::size_t> channels(graph.netlist().channels.size());
  std::iota(channels.begin(), channels.end(), std::size_t{0});
  std::map<std::string_view, std::size_t> shown;
  for (const IoTest& test : io_tests(graph, channels, &live.state().findings()))
    ++shown[shown_of(test, graph, results_of(test, graph, live.io_results()))];
  std::string text =
      "  tests     " + std::to_string(shown["pass"]) + " of " + counted(channels.size(), "channel") + " pass";
  for (const std::string_view what : {"fail", "LED only", "incomplete", "other revision"})
    if (shown[what] != 0) text += ", " + std::to_string(shown[what]) + " " + std::string(what);
  return text + "\n";
}

}  // namespace

std::string counted(std::size_t number, std::string_view noun) {
  return std::to_string(number) + " " + std::string(noun) + (number == 1 ? "" : "s");
}

std::string points_words(std::string_view from, std::string_view to, std::string_view condition) {
  std::string text(from);
  if (!to.empty()) text.append(" to ").append(to);
  if (!condition.empty()) text.append(", ").append(condition_words(condition, Detail::short_lists));
  return text;
}

std::string acknowledgement(std::string_view id, const Entry& entry, const Drawing& drawing, Colour colour) {
  return std::string(id) + "  " + points_words(entry.from, entry.to, entry.conditions) + ", " +
         to_text(entry.reading.rows.front().value) + ": " + judged(entry, drawing, colour) + "\n";
}

std::string expectation(const Entry& entry, const Drawing& drawing) {
  return points_words(entry.from, entry.to, entry.conditions) + ": " +
         drawn_words(drawing.graph, entry.reading, entry.comparison, ReadingId{0}) + "\n";
}

std::string proposal(const Upcoming& reading, std::string_view condition, const ConductionGraph& graph,
                     Colour colour) {
  const bool has_colours = graph.has_diodes();  // of leads
  std::string text = has_colours ? "Next  red on " : "Next  ";
  text += with_place(reading.from, reading.from_point, graph, colour) + "\n";
  text += (has_colours ? "    black on " : "      ") +
          with_place(reading.to, reading.to_point, graph, colour) + "\n";
  const std::string ohms = reading.in_ohms ? "in ohms; " : "";
  text += in_lines(ohms + why_words(reading, graph), 6, 8);
  if (reading.conditions != condition) text += in_lines(before_reading(condition, reading.conditions), 6, 8);
  return text;
}

std::string list_of_upcoming(std::span<const Upcoming> readings) {
  std::string text;
  for (const Upcoming& reading : readings)
    text += in_lines(
        points_words(reading.from, reading.to, reading.conditions) + (reading.in_ohms ? ", in ohms" : ""), 2,
        4);
  return text;
}

std::string journal_line(const JournalReading& row) {
  std::string text = row.id + "  ";
  if (row.value.empty())
    text += "undoes " + row.supersedes + ", " + row.by;
  else
    text += points_words(row.from, row.to, row.conditions) + ", " + row.value +
            (row.by.empty() ? "" : ", " + row.by);
  if (!row.value.empty() && !row.supersedes.empty()) text += ", in place of " + row.supersedes;
  if (!row.superseded_by.empty()) text += ": no longer counts since " + row.superseded_by;
  return text + "\n";
}

std::string open_changes(const Events& events) {
  const std::vector<const Event*> open = open_temporary_changes(events);
  if (open.empty()) return {};
  std::string text = "Not put back yet:\n";
  for (std::size_t i = 0; i < open.size(); ++i) {
    std::string points;
    for (const std::string& point : open[i]->points) points += (points.empty() ? "" : "; ") + point;
    text += in_lines(std::to_string(i + 1) + "  " + points + ": " + open[i]->text + ", " + open[i]->by, 2, 5);
  }
  return text;
}

std::string progress(LiveJob& live) {
  const Comparison& c = live.state().comparison();
  std::string text = "  readings  " + std::to_string(live.state().readings().rows.size()) + ": " +
                     std::to_string(c.agree) + " agree, " + std::to_string(c.disagree) +
                     " contradict the drawing";
  if (c.either != 0) text += ", " + std::to_string(c.either) + " fit either way";
  if (c.unknown != 0) text += ", " + std::to_string(c.unknown) + " at points the drawing lacks";
  if (c.stale != 0) {
    const std::vector<Upcoming> upcoming = live.upcoming(c.stale);
    const auto again = std::count_if(upcoming.begin(), upcoming.end(), [](const Upcoming& reading) {
      return reading.why == Upcoming::Why::again;
    });
    text += ", " + std::to_string(c.stale) + " stale (" + (again == 0 ? "none" : std::to_string(again)) +
            " to be read again)";
  }
  if (c.unstable != 0) text += ", " + std::to_string(c.unstable) + " contradict each other";
  const Findings& findings = live.state().findings();
  const auto proven =
      std::count_if(findings.channels.begin(), findings.channels.end(),
                    [](const ChannelResult& channel) { return channel.state == ChannelState::proven; });
  const LiveJob::Progress plan = live.progress();
  text += "\n  findings  " + std::to_string(findings.clusters.size());
  text += "\n  channels  " + std::to_string(proven) + " of " + std::to_string(findings.channels.size()) +
          " proven";
  text +=
      "\n  plan      " + std::to_string(plan.done) + " of " + counted(plan.planned, "reading") + " done\n";
  return text + tested(live);
}

std::string help_text() {
  constexpr std::string_view k_forms[][2] = {
      {"FROM TO VALUE", "x1:5 k3:a1 b     points, wire numbers, tags or addresses; \"FAN ON\" b"},
      {"WIRE VALUE", "504 b            from end to end of the wire"},
      {"POINT VALUE", "x1:5 23.9V       also lit, dark"},
      {"VALUE", "b                the reading shown as next"},
      {"FROM TO", "x1:5 k3:a1       what the drawing expects there"},
      {"CHANNEL SEEN...", "start lit dark bit=1 only=yes   what a test showed"},
  };
  constexpr std::size_t k_width = 28;
  std::string text =
      "Values: b (beep), o (open), OL, ohms such as 0.4 or 1.5k, 23.9V, lit, dark\n"
      "Seen in a test: lit dark (when done, when undone) bit=1 only=yes; 50=12.1; on=24 off=0,\n"
      "  responded, nothing; pass, fail; unproven=NAME, tolerance=0.2, reason=TEXT\n";
  const auto line = [&](std::string label, std::string_view meaning) {
    label.resize(std::max(label.size(), k_width), ' ');
    text.append("  ").append(label).append(" ").append(meaning).append("\n");
  };
  for (const auto& [form, example] : k_forms) line(std::string(form), example);
  for (const CommandWord& command : command_words())
    line(std::string(command.word) + " " + std::string(command.usage), command.meaning);
  return text;
}

}  // namespace ringtrue::cli::log
