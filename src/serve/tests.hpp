#pragma once
#include <string>

#include "ringtrue/live/live_job.hpp"

namespace ringtrue::serve {

/// How each channel is tried and what is shown of it: JSON on one line.
[[nodiscard]] std::string tests_text(const LiveJob& live);

}  // namespace ringtrue::serve
