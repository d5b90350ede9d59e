#pragma once
#include <string_view>

#include "exit_status.hpp"

namespace ringtrue::cli {

/// Writes a result to stdout and makes sure that it arrived: a report cut short by a full disk must not pass
/// for one. Control characters of the drawing don't reach the terminal; JSON has none.
/// @return `status`, or `bad_input` (with a message) if the text could not be written whole.
[[nodiscard]] ExitStatus write_result(std::string_view text, ExitStatus status);

}  // namespace ringtrue::cli
