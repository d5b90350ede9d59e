#pragma once
#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::job {

/// How many rows of each kind there are.
[[nodiscard]] Result<JobMark> mark_of(Database& database);

/// As `Job::news`, within a transaction of the caller.
[[nodiscard]] Result<JobNews> read_news(Database& database, const JobMark& since);

}  // namespace ringtrue::job
