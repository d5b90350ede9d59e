#pragma once
#include <filesystem>
#include <string>

#include "ringtrue/job/job.hpp"

namespace ringtrue {

/// What a job holds, for people: panel, netlist and its SHA-256, how many of each record, the last reading,
/// and the temporary changes that are still open.
[[nodiscard]] std::string job_text(const JobContents& contents, const std::filesystem::path& job);

/// What was added of so many readings, for people.
[[nodiscard]] std::string import_text(std::size_t added, std::size_t readings,
                                      const std::filesystem::path& job);

/// Where a job was written to as files, for people.
[[nodiscard]] std::string export_text(const std::filesystem::path& job, const std::filesystem::path& folder);

}  // namespace ringtrue
