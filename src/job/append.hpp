#pragma once
#include <cstddef>

#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

// Rows added to a job, each call within a transaction of the caller; errors as those of `Job::append`.

namespace ringtrue::job {

[[nodiscard]] Result<Appended> append_reading(Database& database, const ReadingRow& row,
                                              std::string_view supersedes);
[[nodiscard]] Result<Appended> append_event(Database& database, const EventRow& row);

/// All rows of a file or none; goes on to gather what is wrong with them.
/// @return how many weren't in the job yet.
[[nodiscard]] Result<std::size_t> append_readings(Database& database, const Readings& readings);
[[nodiscard]] Result<std::size_t> append_events(Database& database, const Events& events);
[[nodiscard]] Result<std::size_t> append_meters(Database& database, const Meters& meters);

}  // namespace ringtrue::job
