#pragma once
#include <filesystem>

#include "ringtrue/base/error.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/expect/judge.hpp"

namespace ringtrue::cli {

/// What a settings file may set. Options of the command line go before it.
struct Settings {
  MeterSettings meter;
  DiagnoseOptions diagnose;
};

/// Reads a TOML file with the tables `[meter]` (threshold_ohms, range_ohms, lead_ohms, accuracy),
/// `[diagnose]` (max_faults, least_share) and `[priors]` (the names of Priors). What it leaves out keeps its
/// default.
/// @errors file_unreadable; not_a_netlist never; bad_text for broken TOML; unknown_column for an unknown
/// table or key
///         (nearest names); bad_number for a value of the wrong type or out of range.
[[nodiscard]] Result<Settings> read_settings(const std::filesystem::path& path);

}  // namespace ringtrue::cli
