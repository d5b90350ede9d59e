#include "command.hpp"

#include <algorithm>
#include <charconv>
#include <optional>
#include <vector>

#include "ringtrue/model/number.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue::cli::log {

namespace {

using Words = std::vector<std::string_view>;

constexpr std::size_t k_few = 5;

constexpr std::string_view k_forms = "FROM TO VALUE, WIRE VALUE, a value alone, or help";

tl::unexpected<Errors> wrong(ErrorCode code, std::string message, std::string_view found,
                             std::string expected) {
  return fail({code, std::move(message), {}, std::string(found), std::move(expected), {}});
}

Words words_of(std::string_view text) {
  Words words;
  constexpr std::string_view k_blanks = " \t\r";
  for (std::size_t at = text.find_first_not_of(k_blanks); at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(k_blanks, at), text.size());
    words.push_back(text.substr(at, end - at));
    at = text.find_first_not_of(k_blanks, end);
  }
  return words;
}

std::string lower(std::string_view text) {
  std::string low(text);
  for (char& c : low)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return low;
}

/// The value as a file of readings has it; nothing if it is none.
std::optional<std::string> value_of(std::string_view text) {
  const std::string low = lower(text);
  if (low == "b") return "beep";
  if (low == "o") return "open";
  if (!parse_value(text)) return std::nullopt;
  return std::string(text);
}

/// Takes the value off the end, which may be a number and a unit: `680 ohm`.
std::optional<std::string> cut_value(Words& words) {
  if (auto value = value_of(words.back())) {
    words.pop_back();
    return value;
  }
  if (words.size() < 2) return std::nullopt;
  auto value = value_of(std::string(words[words.size() - 2]) + " " + std::string(words.back()));
  if (value) words.resize(words.size() - 2);
  return value;
}

Result<Command> no_value(std::string_view found) {
  return wrong(ErrorCode::bad_reading, "not a value", found,
               "b, o, OL, ohms such as 0.4 or 1.5k, 23.9V, lit or dark");
}

Result<Command> reading(std::string_view line) {
  Words words = words_of(line);
  auto value = cut_value(words);
  if (words.size() > 2)
    return value ? wrong(ErrorCode::bad_call, "too many words", line, std::string(k_forms))
                 : no_value(words.back());
  const std::string from(words.empty() ? "" : words[0]), to(words.size() < 2 ? "" : words[1]);
  if (!value) return Ask{from, to};
  return Take{from, to, std::move(*value)};
}

}  // namespace

/// What stands behind the command.
struct Rest {
  std::string_view command, text;

  [[nodiscard]] Result<Command> missing(std::string_view what) const {
    return wrong(ErrorCode::missing_field, std::string(command) + " lacks " + std::string(what), "",
                 std::string(what));
  }
  [[nodiscard]] Result<std::size_t> number(std::string_view what) const {
    std::size_t value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc{} && end == text.data() + text.size() && value >= 1) return value;
    return wrong(ErrorCode::bad_number, std::string(command) + " takes a whole number", text,
                 std::string(what));
  }
};

namespace {

Result<Command> wire(const Rest& rest) {
  Words words = words_of(rest.text);
  if (words.empty()) return rest.missing("a wire number");
  const std::string name(words.front());
  if (words.size() == 1) return Ask{name, ""};
  words.erase(words.begin());
  auto value = cut_value(words);
  if (!value || !words.empty()) return no_value(rest.text.substr(name.size() + 1));
  return Take{name, "", std::move(*value)};
}

Result<Command> ask(const Rest& rest) {
  const Words words = words_of(rest.text);
  if (words.empty() || words.size() > 2) return rest.missing("one wire number or two points");
  return Ask{std::string(words[0]), words.size() == 2 ? std::string(words[1]) : ""};
}

Result<Command> when(const Rest& rest) {
  if (rest.text.empty()) return rest.missing("a condition such as S1=operated");
  return When{std::string(rest.text)};
}

Result<Command> show_next(const Rest& rest) {
  if (rest.text.empty()) return ShowNext{k_few};
  return rest.number("how many, such as 10").map([](std::size_t n) -> Command { return ShowNext{n}; });
}

Result<Command> show_last(const Rest& rest) {
  if (rest.text.empty()) return ShowLast{k_few};
  return rest.number("how many, such as 10").map([](std::size_t n) -> Command { return ShowLast{n}; });
}

Result<Command> undo(const Rest& rest) { return Undo{std::string(rest.text)}; }

Result<Command> correct(const Rest& rest) {
  Words words = words_of(rest.text);
  if (words.empty()) return rest.missing("the right value");
  if (auto value = cut_value(words); value && words.empty()) return Correct{std::move(*value), ""};
  words = words_of(rest.text);
  const std::string id(words.back());
  words.pop_back();
  if (!words.empty())
    if (auto value = cut_value(words); value && words.empty()) return Correct{std::move(*value), id};
  return no_value(rest.text);
}

Result<Command> repair(const Rest& rest) {
  return rest.number("the number of a finding").map([](std::size_t n) -> Command { return LogRepair{n}; });
}

Result<Command> changed(const Rest& rest) {
  const Words words = words_of(rest.text);
  if (words.empty()) return rest.missing("the points that were touched");
  std::string points;
  std::size_t used = 0;
  do points += (points.empty() ? "" : " ") + std::string(words[used]);
  while (words[used++].ends_with(';') && used < words.size());
  if (used == words.size()) return rest.missing("what was done, behind the points");
  const auto text = static_cast<std::size_t>(words[used].data() - rest.text.data());
  return LogChange{std::move(points), std::string(rest.text.substr(text))};
}

Result<Command> undone(const Rest& rest) {
  return rest.number("the number of an open change").map([](std::size_t n) -> Command {
    return EndChange{n};
  });
}

template <Put::Field k_field>
Result<Command> put(const Rest& rest) {
  if (k_field == Put::Field::by && rest.text.empty()) return rest.missing("a name");
  return Put{k_field, std::string(rest.text)};
}

template <class Alone>
Result<Command> alone(const Rest& rest) {
  if (rest.text.empty()) return Alone{};
  return wrong(ErrorCode::bad_call, std::string(rest.command) + " stands alone", rest.text,
               "nothing behind it");
}

Result<Command> rest(const Rest& rest) {
  return alone<Nothing>(rest).map([](const Command&) -> Command { return When{""}; });
}

constexpr CommandWord k_words[] = {
    {"next", "[N]", "the next readings, 5 of them", show_next},
    {"skip", "", "propose another reading", alone<Skip>},
    {"when", "CONDITION", "read under it from now on: when S1=operated", when},
    {"set", "", "the condition of the reading proposed is made", alone<TakeOver>},
    {"rest", "", "all is at rest again", rest},
    {"expect", "FROM TO", "what the drawing expects there, as FROM TO alone", ask},
    {"wire", "NAME VALUE", "from end to end of a wire, whatever it is called", wire},
    {"undo", "[ID]", "withdraw the last reading logged here, or that one", undo},
    {"correct", "VALUE [ID]", "the same reading with another value", correct},
    {"findings", "", "all findings in full", alone<ShowFindings>},
    {"repair", "N", "finding N was put right as proposed", repair},
    {"changed", "POINT[;POINT] TEXT", "something is lifted, pulled or jumpered for a while", changed},
    {"undone", "N", "change N is put back", undone},
    {"by", "NAME", "who reads", put<Put::Field::by>},
    {"meter", "[NAME]", "with which meter", put<Put::Field::meter>},
    {"witness", "[NAME]", "who looks on", put<Put::Field::witness>},
    {"note", "[TEXT]", "a remark on the next reading", put<Put::Field::note>},
    {"state", "", "how far the job is", alone<ShowState>},
    {"last", "[N]", "the latest rows, 5 of them", show_last},
    {"help", "", "this list", alone<ShowHelp>},
    {"quit", "", "end; all that was acknowledged is in the job", alone<Quit>},
};
}  // namespace

std::span<const CommandWord> command_words() { return k_words; }

Result<Command> parse_line(std::string_view line) {
  line = trimmed(line);
  if (line.empty() || line.front() == '#') return Nothing{};
  const std::size_t end = std::min(line.find_first_of(" \t"), line.size());
  const std::string first = lower(line.substr(0, end));
  for (const CommandWord& command : k_words)
    if (command.word == first) return command.parse({command.word, trimmed(line.substr(end))});
  return reading(line);
}

}  // namespace ringtrue::cli::log
