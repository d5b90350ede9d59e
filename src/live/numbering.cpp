#include "ringtrue/live/numbering.hpp"

#include <algorithm>
#include <charconv>
#include <limits>

namespace ringtrue {

namespace {

/// The number of an id made of the letter and digits, else 0; huge ones are somebody's own ids.
std::size_t number_of(std::string_view id, char letter) {
  constexpr std::size_t k_most = 1'000'000'000;
  if (id.empty() || id.front() != letter) return 0;
  std::size_t number = 0;
  const auto [end, error] = std::from_chars(id.data() + 1, id.data() + id.size(), number);
  return error == std::errc{} && end == id.data() + id.size() && number < k_most ? number : 0;
}

bool is_taken(const Result<Appended>& appended) {
  if (appended) return *appended == Appended::already_there;
  return appended.error().front().code == ErrorCode::repeated_row;
}

/// `append(id)` tries one.
template <class Append>
Result<std::string> with_next(char letter, std::size_t& next, Append append) {
  for (;;) {
    std::string id = letter + std::to_string(next);
    const Result<Appended> appended = append(id);
    const bool taken = is_taken(appended);
    if (!appended && !taken) return tl::unexpected(appended.error());
    ++next;
    if (!taken) return id;
  }
}

}  // namespace

Result<Numbering> Numbering::of(const Job& job) {
  const auto readings = job.journal(std::numeric_limits<std::int32_t>::max());
  if (!readings) return tl::unexpected(readings.error());
  const auto panel = job.panel();
  if (!panel) return tl::unexpected(panel.error());
  Numbering made;
  for (const JournalReading& row : *readings)
    made.next_reading_ = std::max(made.next_reading_, number_of(row.id, 'R') + 1);
  for (const Event& event : panel->events.rows)
    made.next_event_ = std::max(made.next_event_, number_of(event.id, 'E') + 1);
  for (const IoResult& result : panel->io_results.rows)
    made.next_io_result_ = std::max(made.next_io_result_, number_of(result.id, 'I') + 1);
  return made;
}

Result<std::string> Numbering::append(Job& job, ReadingRow row, std::string_view supersedes) {
  return with_next('R', next_reading_, [&](const std::string& id) {
    row.id = id;
    return job.append(row, supersedes);
  });
}

Result<std::string> Numbering::append(Job& job, EventRow row) {
  return with_next('E', next_event_, [&](const std::string& id) {
    row.id = id;
    return job.append(row);
  });
}

Result<std::string> Numbering::append(Job& job, IoResultRow row) {
  return with_next('I', next_io_result_, [&](const std::string& id) {
    row.id = id;
    return job.append(row);
  });
}

}  // namespace ringtrue
