#pragma once
#include <string_view>

#include "parts.hpp"

// What somebody says of a channel that was tried.

namespace ringtrue::cli::log {

/// `CHANNEL SEEN...` without `io` before it: something in it no reading has, a `bit=`, a `50=`, or `lit
/// dark`.
[[nodiscard]] bool is_seen_line(std::string_view line);

/// `CHANNEL [STIMULUS] [pass|fail] SEEN...` in any order behind the channel; `at=`, `given=`, `expected=` and
/// `reason=` take words up to the next `KEY=`.
[[nodiscard]] Result<Command> io_command(const Rest& rest);

}  // namespace ringtrue::cli::log
