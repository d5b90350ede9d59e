#pragma once
#include <cstddef>
#include <string>
#include <string_view>

#include "ringtrue/job/job.hpp"

namespace ringtrue {

/// Adds rows to a job under the next free numbers, `R1`, `R2`, ... for readings and `E1`, ... for events,
/// `I1`, ... for I/O results, while others do the same.
class Numbering {
 public:
  /// Goes on after the greatest number in the job.
  /// @errors those of `Job::journal` and `Job::panel`.
  [[nodiscard]] static Result<Numbering> of(const Job& job);

  /// Adds the row, whose `id` is not looked at, and gives the id that it got. A number that someone took
  /// meanwhile is passed over, so that no row is lost and none stands for another.
  /// @errors those of `Job::append`; then nothing was added.
  [[nodiscard]] Result<std::string> append(Job& job, ReadingRow row, std::string_view supersedes = {});
  [[nodiscard]] Result<std::string> append(Job& job, EventRow row);
  [[nodiscard]] Result<std::string> append(Job& job, IoResultRow row);

 private:
  std::size_t next_reading_ = 1, next_event_ = 1, next_io_result_ = 1;
};

}  // namespace ringtrue
