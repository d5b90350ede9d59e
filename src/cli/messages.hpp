#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "exit_status.hpp"
#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"
#include "ringtrue/report/detail.hpp"

// Everything the command says on stderr goes through here, a line per message.

namespace ringtrue::cli {

void say(std::string_view message);

/// One line per mistake in the input, with which the work ends.
ExitStatus refuse(const Errors& errors);

/// Mistakes that did not stop the work: the first few, then how many more there are.
void say_warnings(const Errors& errors, Detail detail);

/// What the loader took for what: the first few, then how many more there are, and which option shows them.
void say_notes(const std::vector<Note>& notes, Detail detail, std::string_view option = "--all");

/// A call that asks for what can't be had.
/// @param option  where in the call: `--volts`, or the name of an argument
[[nodiscard]] tl::unexpected<Errors> wrong_call(std::string message, std::string option, std::string found,
                                                std::string expected);

}  // namespace ringtrue::cli
