#pragma once
#include "options.hpp"
#include "ringtrue/load/load.hpp"

// The one place where verbs get their panel, from files or from a job.

namespace ringtrue::cli {

/// Loads what the call names. Where a job stands in place of the netlist, readings, events and meters are its
/// own; meters of a file given with `--meter` go before them. A job in place of READINGS gives all but the
/// netlist.
/// @errors of `load_panel` or of `open_job` and `Job::panel`; bad_call for readings beside a job.
[[nodiscard]] Result<Panel> panel_of(const PanelSource& source, Threads threads = {});

}  // namespace ringtrue::cli
