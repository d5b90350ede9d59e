#pragma once
#include <string>

namespace ringtrue {

/// The time now as RFC 3339 in UTC with milliseconds, `2026-03-02T06:15:00.125Z`. Later than any that this
/// process was given before, so that rows keep their order. Thread-safe.
[[nodiscard]] std::string time_now();

}  // namespace ringtrue
