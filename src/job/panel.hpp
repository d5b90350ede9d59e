#pragma once
#include "job/database.hpp"
#include "ringtrue/load/load.hpp"

namespace ringtrue::job {

/// What is current, as `Job::panel` says, within a transaction of the caller.
[[nodiscard]] Result<Panel> read_panel(Database& database);

}  // namespace ringtrue::job
