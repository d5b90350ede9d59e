#pragma once
#include <filesystem>

#include "job/database.hpp"

namespace ringtrue::job {

/// Writes all rows and netlist files into a new folder, as `Job::export_to` says.
[[nodiscard]] Result<void> export_files(Database& database, const std::filesystem::path& folder);

}  // namespace ringtrue::job
