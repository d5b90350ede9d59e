#pragma once
#include <cstdint>
#include <filesystem>
#include <map>
#include <string>
#include <string_view>

#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::job {

/// Writes all rows and netlist files into a new folder, as `Job::export_to` says.
[[nodiscard]] Result<void> export_files(Database& database, const std::filesystem::path& folder);

/// SHA-256 of the readings.csv that it writes.
[[nodiscard]] Result<std::string> sha256_of_readings(Database& database);
/// That of the lines `SHA256  NAME` of decisions.csv, events.csv, meters.csv, readings.csv and results.csv as
/// they are exported.
[[nodiscard]] Result<std::string> sha256_of_rows(Database& database);

/// `netlist`, or `netlist-N` where it isn't the newest revision.
[[nodiscard]] std::string netlist_folder(std::int64_t number, std::int64_t newest);
/// Writes `netlists.csv`: which revisions there are, and where their files stand.
/// @param netlists  by number; of each its path, SHA-256 and whether it is as built are used.
[[nodiscard]] Result<void> write_list_of_netlists(const std::filesystem::path& path,
                                                  const std::map<std::int64_t, JobNetlist>& netlists,
                                                  std::int64_t newest);
/// Writes a file, and makes the folders above it.
[[nodiscard]] Result<void> write_netlist_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace ringtrue::job
