#pragma once
#include <cstdint>

#include "job/database.hpp"

namespace ringtrue::job {

/// Number of the newest form of a job that this program knows; SQLite's user_version.
[[nodiscard]] std::int64_t newest_schema();

/// Marks a new, empty database as a job and brings it to the newest form, within a transaction of the caller.
[[nodiscard]] Result<void> make_schema(Database& database);

/// The form that the file has.
/// @errors not_a_job; newer_job; those of Database.
[[nodiscard]] Result<std::int64_t> job_version(Database& database);

/// Looks whether the file is a whole job, and brings an older form to the newest, in one transaction.
/// @errors not_a_job; newer_job; damaged_job; those of Database.
[[nodiscard]] Result<void> check_schema(Database& database);

}  // namespace ringtrue::job
