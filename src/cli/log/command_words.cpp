#include <charconv>

#include "command.hpp"
#include "io_words.hpp"
#include "parts.hpp"

// The commands, each with what it takes.

namespace ringtrue::cli::log {

namespace {

constexpr std::size_t k_few = 5;

Result<Command> missing(const Rest& rest, std::string_view what) {
  return wrong(ErrorCode::missing_field, std::string(rest.command) + " lacks " + std::string(what), "",
               std::string(what));
}

Result<std::size_t> number(const Rest& rest, std::string_view what) {
  std::size_t value = 0;
  const std::string_view text = rest.text;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error == std::errc{} && end == text.data() + text.size() && value >= 1) return value;
  return wrong(ErrorCode::bad_number, std::string(rest.command) + " takes a whole number", text,
               std::string(what));
}

Result<Command> wire(const Rest& rest) {
  Words words = words_of(rest.text);
  if (words.empty()) return missing(rest, "a wire number");
  const std::string name(words.front());
  if (words.size() == 1) return Ask{name, ""};
  words.erase(words.begin());
  auto value = cut_value(words);
  if (!value || !words.empty()) return no_value(text_from(rest.text, words_of(rest.text), 1));
  return Take{name, "", std::move(*value)};
}

Result<Command> ask(const Rest& rest) {
  const Words words = words_of(rest.text);
  if (words.empty() || words.size() > 2) return missing(rest, "one wire number or two points");
  return Ask{std::string(words[0]), words.size() == 2 ? std::string(words[1]) : ""};
}

Result<Command> when(const Rest& rest) {
  if (rest.text.empty()) return missing(rest, "a condition such as S1=operated");
  return When{std::string(rest.text)};
}

Result<Command> show_next(const Rest& rest) {
  if (rest.text.empty()) return ShowNext{k_few};
  return number(rest, "how many, such as 10").map([](std::size_t n) -> Command { return ShowNext{n}; });
}

Result<Command> show_last(const Rest& rest) {
  if (rest.text.empty()) return ShowLast{k_few};
  return number(rest, "how many, such as 10").map([](std::size_t n) -> Command { return ShowLast{n}; });
}

Result<Command> undo(const Rest& rest) { return Undo{std::string(rest.text)}; }

Result<Command> correct(const Rest& rest) {
  Words words = words_of(rest.text);
  if (words.empty()) return missing(rest, "the right value");
  if (auto value = cut_value(words); value && words.empty()) return Correct{std::move(*value), ""};
  words = words_of(rest.text);
  const std::string id(words.back());
  words.pop_back();
  if (!words.empty())
    if (auto value = cut_value(words); value && words.empty()) return Correct{std::move(*value), id};
  return no_value(rest.text);
}

Result<Command> repair(const Rest& rest) {
  return number(rest, "the number of a finding").map([](std::size_t n) -> Command { return LogRepair{n}; });
}

Result<Command> changed(const Rest& rest) {
  const Words words = words_of(rest.text);
  if (words.empty()) return missing(rest, "the points that were touched");
  std::string points;
  std::size_t used = 0;
  do points += (points.empty() ? "" : " ") + std::string(words[used]);
  while (words[used++].ends_with(';') && used < words.size());
  if (used == words.size()) return missing(rest, "what was done, behind the points");
  return LogChange{std::move(points), std::string(text_from(rest.text, words, used))};
}

Result<Command> undone(const Rest& rest) {
  return number(rest, "the number of an open change").map([](std::size_t n) -> Command {
    return EndChange{n};
  });
}

Result<Command> test(const Rest& rest) { return ShowTest{std::string(rest.text)}; }

template <Put::Field k_field>
Result<Command> put(const Rest& rest) {
  if (k_field == Put::Field::by && rest.text.empty()) return missing(rest, "a name");
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
    {"test", "[CHANNEL]", "how a channel is tried; the next one", test},
    {"io", "CHANNEL SEEN...", "what a test showed; without io too where SEEN has a =", io_command},
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

}  // namespace ringtrue::cli::log
