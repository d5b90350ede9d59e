#pragma once
#include <string>

#include "job/database.hpp"
#include "ringtrue/load/load.hpp"

namespace ringtrue::job {

/// What is current, as `Job::panel` says, within a transaction of the caller.
[[nodiscard]] Result<Panel> read_panel(Database& database);

/// Readings of the rows that meet the condition ` WHERE ...`, in the order in which they were added.
[[nodiscard]] Result<Readings> readings_of(Database& database, const std::string& where);

/// The results that nothing withdraws, in the order in which they were added.
[[nodiscard]] Result<IoResults> io_results_of(Database& database);

/// Every signature, in the order in which they were added.
[[nodiscard]] Result<Signatures> signatures_of(Database& database);

}  // namespace ringtrue::job
