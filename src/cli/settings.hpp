#pragma once
#include <filesystem>

#include "ringtrue/base/error.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/copper.hpp"

namespace ringtrue::cli {

/// What a settings file may set. Options of the command line go before it.
struct Settings {
  CopperSettings copper;
  DiagnoseOptions diagnose;
};

/// Reads a TOML file with the tables `[copper]` (hottest_c, length_tolerance), `[diagnose]` (max_faults,
/// least_share, least_single_share) and `[priors]` (the names of Priors). What it leaves out keeps its
/// default.
/// @errors file_unreadable; bad_text for broken TOML; unknown_column for an unknown table or key (nearest
///         names); bad_number for a value of the wrong type or out of range.
[[nodiscard]] Result<Settings> read_settings(const std::filesystem::path& path);

/// Reads a TOML file of priors alone: the keys of `[priors]`, at the top or in such a table. What it leaves
/// out stays as in `priors`.
/// @errors as read_settings
[[nodiscard]] Result<Priors> read_priors(const std::filesystem::path& path, const Priors& priors);

}  // namespace ringtrue::cli
