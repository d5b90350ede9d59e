#pragma once
#include "ringtrue/job/job.hpp"
#include "serve/answer.hpp"
#include "serve/json.hpp"

// What every entry is looked at for, and how it is acknowledged.

namespace ringtrue::serve {

/// 201 where a row was added, 200 where the same was there already.
[[nodiscard]] Answer taken(Appended appended, const Json& body);

/// Read now, so that a time that is none never gets into the job.
[[nodiscard]] Result<void> check_time(std::string_view time);

}  // namespace ringtrue::serve
