#pragma once
#include <mutex>
#include <optional>
#include <string_view>

#include "ringtrue/job/job.hpp"
#include "ringtrue/live/io_entry.hpp"
#include "ringtrue/model/meter.hpp"
#include "serve/answer.hpp"
#include "serve/body.hpp"
#include "serve/watch.hpp"

namespace ringtrue::serve {

/// Takes what pages send into the job: each call is one POST, its body a JSON object of texts. 201 where a
/// row was added, 200 where the same was there already; either only once it is on the disk. Thread-safe.
class Entries {
 public:
  /// `unnamed`: the meter of readings that name none. The watch must outlive it.
  Entries(Job job, Watch& watch, const MeterSettings& unnamed)
      : job_(std::move(job)), watch_(watch), unnamed_(unnamed) {}

  [[nodiscard]] Answer reading(std::string_view body);
  [[nodiscard]] Answer withdrawal(std::string_view body);
  [[nodiscard]] Answer repair(std::string_view body);
  [[nodiscard]] Answer change(std::string_view body);
  [[nodiscard]] Answer result(std::string_view body);
  [[nodiscard]] Answer result_withdrawal(std::string_view body);

 private:
  [[nodiscard]] Result<std::optional<JournalReading>> stored(std::string_view id);
  [[nodiscard]] Result<std::optional<IoResult>> stored_result(std::string_view id);
  [[nodiscard]] Result<IoEntry> result_of(const Body& body);
  template <class Row, class... More>
  [[nodiscard]] Result<Appended> append(const Row& row, More... more) {
    const std::lock_guard lock(mutex_);
    return job_.append(row, more...);
  }

  std::mutex mutex_;  ///< of the job
  Job job_;
  Watch& watch_;
  MeterSettings unnamed_;
};

}  // namespace ringtrue::serve
