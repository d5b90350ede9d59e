#pragma once
#include <filesystem>
#include <span>
#include <string_view>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::write {

/// The files that a folder of a netlist may hold.
[[nodiscard]] std::span<const std::string_view> csv_files();

/// Writes the tables of a netlist into an empty folder. Errors: file_unwritable, without a place.
[[nodiscard]] Result<void> write_csv_files(const Netlist& netlist, const std::filesystem::path& folder);

}  // namespace ringtrue::write
