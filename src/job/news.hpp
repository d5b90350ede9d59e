#pragma once
#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

namespace ringtrue::job {

/// As `Job::news`, within a transaction of the caller.
[[nodiscard]] Result<JobNews> read_news(Database& database, const JobMark& since);

}  // namespace ringtrue::job
