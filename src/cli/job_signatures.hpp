#pragma once
#include <CLI/CLI.hpp>
#include <functional>

#include "exit_status.hpp"

namespace ringtrue::cli {

/// The word of `job` that signs. `run`: set to what was asked for; must outlive the parsing.
void add_signing(CLI::App& job, std::function<ExitStatus()>& run);

}  // namespace ringtrue::cli
