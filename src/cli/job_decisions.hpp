#pragma once
#include <CLI/CLI.hpp>
#include <functional>

#include "exit_status.hpp"

namespace ringtrue::cli {

/// The words of `job` that decide about findings and draw what was decided. `run`: set to what was asked for;
/// must outlive the parsing.
void add_decisions(CLI::App& job, std::function<ExitStatus()>& run);

}  // namespace ringtrue::cli
