#pragma once
#include <filesystem>

#include "ringtrue/base/error.hpp"
#include "ringtrue/check/check.hpp"

namespace ringtrue::cli {

/// Reads a TOML file that changes the drawing check. At the top it may have `numbering` (`per-conductor`,
/// `per-potential`), `colours` (`IEC 60204-1`, `NFPA 79`) and `conductors_per_side` (from 1 to 99); in a
/// table
/// `[rules]` the id of any rule with `off`, `notice`, `warning` or `error`. What it leaves out keeps its
/// default.
/// @errors file_unreadable; bad_text for broken TOML; unknown_column for an unknown key or rule (nearest
///         names); bad_number for a value that doesn't fit.
[[nodiscard]] Result<CheckOptions> read_check_rules(const std::filesystem::path& path);

}  // namespace ringtrue::cli
