#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "job/database.hpp"
#include "ringtrue/job/job.hpp"

// Rows of readings as they stand in the job, each call within a transaction of the caller.

namespace ringtrue::job {

/// The query of one more column of a reading: the ids of the rows that supersede it, `; ` between them.
inline constexpr std::string_view k_superseded_by =
    ", (SELECT group_concat(later.id, '; ') FROM reading AS later WHERE later.supersedes = reading.id)";

/// The newest so many, newest first.
[[nodiscard]] Result<std::vector<JournalReading>> newest_readings(Database& database, std::size_t count);
[[nodiscard]] Result<std::optional<JournalReading>> find_reading(Database& database, std::string_view id);

}  // namespace ringtrue::job
