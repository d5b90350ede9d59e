#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "job/database.hpp"
#include "job/rows.hpp"
#include "ringtrue/job/job.hpp"

// Rows of readings and results as they stand in the job, each call within a transaction of the caller.

namespace ringtrue::job {

/// The query of one more column of a reading or result: the ids of the rows that supersede it, `; ` between
/// them.
template <class Row>
std::string superseded_by() {
  const std::string table(k_table_of<Row>.table);
  return ", (SELECT group_concat(later.id, '; ') FROM " + table +
         " AS later WHERE later.supersedes = " + table + ".id)";
}

/// The newest so many, newest first.
[[nodiscard]] Result<std::vector<JournalReading>> newest_readings(Database& database, std::size_t count);
[[nodiscard]] Result<std::optional<JournalReading>> find_reading(Database& database, std::string_view id);
[[nodiscard]] Result<std::optional<IoResult>> find_io_result(Database& database, std::string_view id);

}  // namespace ringtrue::job
