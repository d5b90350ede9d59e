#include <algorithm>
#include <numeric>

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/live/clock.hpp"
#include "ringtrue/live/io_entry.hpp"
#include "ringtrue/live/io_test_words.hpp"
#include "ringtrue/model/number.hpp"
#include "ringtrue/report/analog_report.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "session.hpp"

// I/O tests: how a channel is tried, and what it showed.

namespace ringtrue::cli::log {

namespace {

IoSeen seen_of(const LogIo& typed) {
  IoSeen seen;
  seen.stimulus = typed.stimulus, seen.verdict = typed.verdict;
  seen.led = typed.led, seen.back = typed.back, seen.bit = typed.bit, seen.only_this = typed.only_this;
  seen.value = typed.value, seen.seen_as = typed.seen_as;
  seen.responded = typed.responded, seen.on = typed.on, seen.off = typed.off;
  seen.unproven = typed.unproven;
  seen.at = typed.at, seen.given = typed.given, seen.expected = typed.expected, seen.reason = typed.reason;
  return seen;
}

/// One for each point of an analog channel, else one.
Result<std::vector<IoEntry>> entries_of(const IoTest& test, const ConductionGraph& graph,
                                        const LogIo& typed) {
  IoSeen seen = seen_of(typed);
  if (!typed.tolerance.empty()) {
    const auto tolerance = parse_number(typed.tolerance);
    if (!tolerance || !(*tolerance >= 0 && *tolerance <= 100))
      return fail({ErrorCode::bad_number,
                   "no such tolerance",
                   {"", 0, "", "tolerance"},
                   typed.tolerance,
                   "0 to 100 % of span",
                   {}});
    seen.tolerance_pct = *tolerance;
  }
  std::vector<IoEntry> entries;
  const std::vector<std::pair<std::string, std::string>> none = {{"", typed.value}};
  for (const auto& [percent, value] : typed.points.empty() ? none : typed.points) {
    seen.percent = percent, seen.value = value;
    auto entry = make_io_entry(test, graph, seen);
    if (!entry) return tl::unexpected(std::move(entry.error()));
    entries.push_back(std::move(*entry));
  }
  return entries;
}

std::string names_of(const Channel& channel, const Netlist& netlist) {
  const std::string point = netlist.points.name(channel.point);
  return channel.tag.empty() ? point : point + " " + std::string(channel.tag);
}

/// `A1:0.0 HOPPER_FULL, jumper: pass; removed: dark`
std::string told(const IoEntry& entry, const Channel& channel, const Netlist& netlist) {
  const bool is_analog = channel.type == ChannelType::AI || channel.type == ChannelType::AO;
  std::string text = names_of(channel, netlist) + ", " + entry.stimulus;
  if (is_analog && !entry.given.empty()) text += ", " + entry.given + ": " + entry.value;
  text += ": " + entry.verdict;
  if (entry.shown != entry.verdict) text += ", though it shows " + entry.shown;
  return entry.reason.empty() ? text : text + "; " + entry.reason;
}

std::string points_of(const AnalogSheet& sheet, const Channel& channel) {
  std::string text;
  if (!sheet.scale) return text;
  const auto rounded = [](double number) {
    std::string digits = std::to_string(number);
    digits.erase(digits.find_last_not_of('0') + 1);
    return digits.ends_with('.') ? digits.substr(0, digits.size() - 1) : digits;
  };
  for (const AnalogPoint& point : sheet.points)
    if (point.kind == AnalogPoint::Kind::in_range && point.signal && point.value)
      text += (text.empty() ? "" : "; ") + rounded(point.percent) + " %: " + rounded(*point.signal) + " " +
              std::string(unit_of(sheet.scale->signal.kind)) + ", " + rounded(*point.value) + " " +
              std::string(channel.unit);
  return text;
}

/// How the channel is tried, in a few lines.
std::string test_text(const IoTest& test, const ConductionGraph& graph) {
  const Channel& channel = graph.netlist().channels[test.channel];
  const IoTestWords words = io_test_words(test, graph);
  std::string text = names_of(channel, graph.netlist()) + ": " + words.what + "\n";
  const auto line = [&](std::string_view label, const std::string& what) {
    if (!what.empty()) text += in_lines(std::string(label) + what, 2, 4);
  };
  for (const std::string& reason : words.reasons) line(words.answer + ": ", reason);
  line("do: ", (words.answer == "hold" ? "Once that is settled: " : "") + words.act);
  for (const IoPlace& place : words.places)
    line(place.use + " ", place.point + (place.place.empty() ? "" : "  (" + place.place + ")"));
  line("LED: ", words.led);
  line("expect: ", words.expect);
  line("", words.stands_for);
  line("responds: ", words.responds);
  if (test.analog) line("points: ", points_of(*test.analog, channel));
  return text;
}

bool is_to_be_tried(std::string_view shown) { return shown == "not tested" || shown == "other revision"; }

tl::unexpected<Errors> wrong(std::string message, std::string found, std::string expected) {
  return fail({ErrorCode::bad_call, std::move(message), {}, std::move(found), std::move(expected), {}});
}

}  // namespace

IoTest Session::test_of(std::size_t channel) const {
  const std::size_t one[] = {channel};
  return io_tests(live_.drawing()->graph, one, &live_.state().findings()).front();
}

Result<std::size_t> Session::one_channel(const std::string& typed) const {
  const auto found = find_channels(netlist(), typed);
  if (!found) return tl::unexpected(found.error());
  if (found->size() == 1) return found->front();
  std::string points;
  for (const std::size_t channel : *found)
    points += (points.empty() ? "" : " or ") + netlist().points.name(netlist().channels[channel].point);
  return wrong("several channels are called so", typed, points);
}

Result<void> Session::run(const LogIo& typed) {
  const auto channel = one_channel(typed.channel);
  if (!channel) return tl::unexpected(channel.error());
  const IoTest test = test_of(*channel);
  const auto entries = entries_of(test, live_.drawing()->graph, typed);
  if (!entries) return tl::unexpected(entries.error());
  for (const IoEntry& entry : *entries) {
    const std::string time = time_now(),
                      reason = entry.reason + (entry.reason.empty() || note_.empty() ? "" : "; ") + note_;
    IoResultRow row = entry.row();
    row.time = time, row.by = options_.by, row.witness = options_.witness, row.meter = options_.meter;
    row.reason = reason;
    const auto id = numbering_.append(job_, row);
    if (!id) return tl::unexpected(id.error());
    const std::string line = told(entry, netlist().channels[test.channel], netlist());
    print_(in_lines(line, id->size() + 2, 4).replace(0, id->size(), *id));
    added(*id);
    logged_.push_back(*id);
  }
  note_.clear();
  catch_up();
  return {};
}

Result<void> Session::run(const ShowTest& typed) {
  std::vector<std::size_t> channels(netlist().channels.size());
  std::iota(channels.begin(), channels.end(), std::size_t{0});
  if (!typed.channel.empty()) {
    const auto channel = one_channel(typed.channel);
    if (!channel) return tl::unexpected(channel.error());
    print_(test_text(test_of(*channel), live_.drawing()->graph));
    return {};
  }
  const ConductionGraph& graph = live_.drawing()->graph;
  for (const IoTest& test : io_tests(graph, channels, &live_.state().findings()))
    if (is_to_be_tried(shown_of(test, graph, results_of(test, graph, live_.io_results())))) {
      print_(test_text(test, graph));
      return {};
    }
  print_(channels.empty() ? "The drawing lists no channels.\n"
                          : "Every channel has a result of this revision.\n");
  return {};
}

Result<bool> Session::undo_result(const std::string& id) {
  const auto result = job_.find_io_result(id);
  if (!result) return tl::unexpected(result.error());
  if (!*result) return false;
  const std::vector<IoResult>& current = live_.io_results().rows;
  if (std::none_of(current.begin(), current.end(), [&](const IoResult& one) { return one.id == id; }))
    return wrong("this result no longer counts, or is none", id, "one that stands");
  IoResultRow row = withdrawal_of(**result);
  const std::string time = time_now();
  row.time = time, row.by = options_.by;
  const auto made = numbering_.append(job_, row);
  if (!made) return tl::unexpected(made.error());
  print_(*made + "  undoes " + id + ": " + (*result)->channel + ", " + std::string(word((*result)->verdict)) +
         "\n");
  added(*made);
  std::erase(logged_, id);
  catch_up();
  return true;
}

void Session::tell_results_of_others() {
  std::string text;
  for (const IoResult& result : live_.io_results().rows)
    if (results_told_.insert(result.id).second && !own_.contains(result.id))
      text += in_lines("Elsewhere " + result.id + "  " + result.channel + ", " +
                           std::string(word(result.stimulus)) + ": " + std::string(word(result.verdict)) +
                           ", " + result.by,
                       0, 4);
  print_(text);
}

}  // namespace ringtrue::cli::log
