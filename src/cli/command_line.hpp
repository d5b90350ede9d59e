#pragma once
#include <string_view>

#include "exit_status.hpp"

namespace ringtrue::cli {

inline constexpr std::string_view k_exit_status =
    "0 all right, 1 findings, 2 the input or the call is wrong, 3 a fault of ringtrue.";
inline constexpr std::string_view k_cautions =
    "Prove dead before any continuity reading. Local codes, the site's isolation procedure and\n"
    "licensed persons decide.";

/// Reads the arguments, runs the verb they name, and says in one sentence what is wrong with a call that is
/// wrong.
[[nodiscard]] ExitStatus run_command_line(int argc, const char* const* argv);

}  // namespace ringtrue::cli
