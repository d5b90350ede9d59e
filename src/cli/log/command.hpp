#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "ringtrue/base/error.hpp"

// What can be typed while readings are logged, as text and nothing else: no drawing, no job.

namespace ringtrue::cli::log {

/// `FROM TO VALUE`; `WIRE VALUE` or `POINT VALUE` with `to` empty; a value alone, with `from` empty too, is
/// that of the reading proposed.
struct Take {
  std::string from, to, value;
};
/// What does the drawing expect between two points, or from end to end of a wire (`to` empty)?
struct Ask {
  std::string from, to;
};
/// Everything is read under this condition from now on; empty: at rest.
struct When {
  std::string condition;
};
struct TakeOver {};  ///< the condition of the reading proposed
struct Skip {};
struct ShowNext {
  std::size_t most;
};
struct Undo {
  std::string id;  ///< empty: the last reading logged here
};
struct Correct {
  std::string value, id;  ///< likewise
};
struct ShowFindings {};
struct LogRepair {
  std::size_t finding;  ///< counted from 1
};
struct LogChange {
  std::string points, text;  ///< `; ` between points
};
struct EndChange {
  std::size_t change;  ///< counted from 1
};
/// A channel tried with the panel powered; the fields as in `IoSeen`.
struct LogIo {
  std::string channel, stimulus, verdict, at, given, expected, led, back, bit, value, only_this, reason;
  std::string responded, on, off, seen_as, unproven, tolerance;
  std::vector<std::pair<std::string, std::string>>
      points;  ///< of an analog channel: percentage, what was seen
};
/// How a channel is tried; empty: the next one that is not tested.
struct ShowTest {
  std::string channel;
};
/// What is written beside readings.
struct Put {
  enum class Field { by, meter, witness, note } field;
  std::string text;  ///< empty: none from now on
};
struct ShowState {};
struct ShowLast {
  std::size_t most;
};
struct ShowHelp {};
struct Quit {};
struct Nothing {};  ///< an empty line, or a remark after `#`

using Command =
    std::variant<Nothing, Take, Ask, When, TakeOver, Skip, ShowNext, Undo, Correct, ShowFindings, LogRepair,
                 LogChange, EndChange, LogIo, ShowTest, Put, ShowState, ShowLast, ShowHelp, Quit>;

/// Reads a line. A first word that is a command, in any case, is one; a wire of that name is written
/// `wire NAME VALUE`.
/// @errors bad_call for what no line can be; missing_field where a command lacks a word; bad_number;
///         bad_reading for a value that is none.
[[nodiscard]] Result<Command> parse_line(std::string_view line);

struct Rest;
/// A word that a line may begin with, for help and completion.
struct CommandWord {
  std::string_view word;
  std::string_view usage;    ///< what follows it: `VALUE [ID]`
  std::string_view meaning;  ///< in a line
  Result<Command> (*parse)(const Rest& rest);
};
[[nodiscard]] std::span<const CommandWord> command_words();

/// What can be typed behind a channel that was tried, for completion.
[[nodiscard]] std::span<const std::string_view> seen_words();

}  // namespace ringtrue::cli::log
