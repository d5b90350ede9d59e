#pragma once
#include <filesystem>
#include <string>
#include <vector>

#include "ringtrue/job/job.hpp"
#include "ringtrue/job/salvage.hpp"

namespace ringtrue {

/// What a job holds, for people: panel, netlist and its SHA-256, how many of each record, the last reading,
/// and the temporary changes that are still open.
[[nodiscard]] std::string job_text(const JobContents& contents, const std::filesystem::path& job);

/// The same counts for programs, with every revision of the netlist: netlists/schema/job.schema.json.
[[nodiscard]] std::string job_json(const JobContents& contents);

/// What was added of the rows of files, for people.
[[nodiscard]] std::string import_text(const JobRowCounts& added, const JobRows& rows,
                                      const std::filesystem::path& job);

/// Which revision of the netlist the job has now, whether it was added, and how many readings are to be taken
/// again, for people.
[[nodiscard]] std::string revise_text(Appended appended, const JobContents& contents, std::size_t again,
                                      const std::filesystem::path& job);

/// What was read of a damaged job and what is lost, for people, a line each. `reason`: what is wrong with it.
[[nodiscard]] std::vector<std::string> salvage_text(const Salvage& salvage, const Error& reason,
                                                    const std::filesystem::path& folder);

/// Where a job was written to as files, for people.
[[nodiscard]] std::string export_text(const std::filesystem::path& job, const std::filesystem::path& folder);

}  // namespace ringtrue
