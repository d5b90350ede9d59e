#pragma once
#include <string>

namespace ringtrue {

/// The time now as a job keeps it, `2026-03-02T07:15:00.123Z` (RFC 3339). Within one process each call gives a
/// later one, so that what was read before a repair can be told from what was read after it. Thread-safe.
[[nodiscard]] std::string time_now();

}  // namespace ringtrue
