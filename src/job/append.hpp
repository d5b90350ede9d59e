#pragma once
#include <cstddef>

#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

// Rows added to a job, each call within a transaction of the caller; errors as those of `Job::append`.

namespace ringtrue::job {

/// Whether a job takes the row, whatever else is in it.
[[nodiscard]] Result<void> check_reading(const ReadingRow& row, std::string_view supersedes,
                                         const std::string& file);
[[nodiscard]] Result<Appended> append_reading(Database& database, const ReadingRow& row,
                                              std::string_view supersedes);
[[nodiscard]] Result<Appended> append_event(Database& database, const EventRow& row);
[[nodiscard]] Result<Appended> append_io_result(Database& database, const IoResultRow& row);
[[nodiscard]] Result<Appended> append_decision(Database& database, const DecisionRow& row);
[[nodiscard]] Result<Appended> append_signature(Database& database, const Signature& signature);

/// @return how many weren't in the job yet.
[[nodiscard]] Result<JobRowCounts> append_all(Database& database, const JobRows& rows);

}  // namespace ringtrue::job
