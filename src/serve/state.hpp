#pragma once
#include <string>

#include "serve/watch.hpp"

namespace ringtrue::serve {

/// The state of a job as pages get it; its keys stand in DEVELOPERS.md, Bench page.
[[nodiscard]] std::string state_text(const Watch::Source& source, const std::string& job_name);

/// `{"channels": [...]}`
[[nodiscard]] std::string channels_text(const LiveJob& live);

/// `{"readings": [...]}`: rows as they stand in the job, newest first.
[[nodiscard]] Result<std::string> journal_text(const LiveJob& live, const Job& job, std::size_t newest);

}  // namespace ringtrue::serve
