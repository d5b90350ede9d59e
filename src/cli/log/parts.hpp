#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "command.hpp"

// What lines are read with.

namespace ringtrue::cli::log {

using Words = std::vector<std::string_view>;

/// The words between blanks. One in quotation marks may have blanks in it and comes without the marks.
[[nodiscard]] Words words_of(std::string_view text);

/// What was typed from a word of `text` on.
[[nodiscard]] std::string_view text_from(std::string_view text, const Words& words, std::size_t word);

[[nodiscard]] std::string lower(std::string_view text);

/// Takes the value off the end, which may be a number and a unit (`680 ohm`), and gives it as a file of
/// readings has it. Nothing, with the words as they were, if there is none.
[[nodiscard]] std::optional<std::string> cut_value(Words& words);

[[nodiscard]] tl::unexpected<Errors> wrong(ErrorCode code, std::string message, std::string_view found,
                                           std::string expected);
[[nodiscard]] tl::unexpected<Errors> no_value(std::string_view found);

/// What stands behind the first word of a line.
struct Rest {
  std::string_view command, text;
};

}  // namespace ringtrue::cli::log
