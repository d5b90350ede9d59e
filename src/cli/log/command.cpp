#include "command.hpp"

#include <algorithm>

#include "io_words.hpp"
#include "parts.hpp"
#include "ringtrue/model/number.hpp"

namespace ringtrue::cli::log {

namespace {

constexpr std::string_view k_forms = "FROM TO VALUE, WIRE VALUE, a value alone, or help";

Result<Command> reading(std::string_view line) {
  Words words = words_of(line);
  auto value = cut_value(words);
  // As the log itself writes it.
  if (words.size() == 3 && lower(words[1]) == "to") words.erase(words.begin() + 1);
  if (words.size() > 2)
    return value ? wrong(ErrorCode::bad_call, "too many words", line, std::string(k_forms))
                 : no_value(words.back());
  const std::string from(words.empty() ? "" : words[0]), to(words.size() < 2 ? "" : words[1]);
  if (!value) return Ask{from, to};
  return Take{from, to, std::move(*value)};
}

}  // namespace

Result<Command> parse_line(std::string_view line) {
  line = trimmed(line);
  if (line.empty() || line.front() == '#') return Nothing{};
  const std::size_t end = std::min(line.find_first_of(" \t"), line.size());
  const std::string first = lower(line.substr(0, end));
  for (const CommandWord& command : command_words())
    if (command.word == first) return command.parse({command.word, trimmed(line.substr(end))});
  if (is_seen_line(line)) return io_command({"io", line});
  return reading(line);
}

}  // namespace ringtrue::cli::log
