#pragma once
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "ringtrue/base/error.hpp"

namespace ringtrue {

/// Rows that can't be read. They count from 1 in the order in which they were added.
struct LostRows {
  std::int64_t first = 0, last = 0;
  std::string first_id, last_id;  ///< where they are still known
};

/// What a damaged job gave of one of its tables.
struct SalvagedTable {
  std::string name;  ///< `reading`, `event`, `meter`, `result`, `decision`, `signature` or `netlist file`
  std::size_t read = 0;
  std::vector<LostRows> lost;
  bool may_have_more = false;  ///< whether rows followed the last one named here is not known
};

/// What a damaged job gave, table by table.
struct Salvage {
  std::vector<SalvagedTable> tables;
  std::vector<std::string> changed_files;  ///< of netlists, written though they aren't what was loaded
};

/// Writes what can be read of a damaged job as `Job::export_to` writes a whole one, and leaves the job as it
/// is. A row is written if it can be read and is one that a job takes. Rows have no checksum: one that reads
/// well may still have been altered where the damage lies.
/// @errors damaged_job (nothing can be read), not_a_job, newer_job, file_exists, file_unwritable.
[[nodiscard]] Result<Salvage> salvage_job(const std::filesystem::path& job,
                                          const std::filesystem::path& folder);

}  // namespace ringtrue
