#pragma once
#include "exit_status.hpp"

namespace ringtrue::cli {

/// Reads the arguments, runs the verb they name, and says in one sentence what is wrong with a call that is
/// wrong.
[[nodiscard]] ExitStatus run_command_line(int argc, const char* const* argv);

}  // namespace ringtrue::cli
