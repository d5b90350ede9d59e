#pragma once
#include <filesystem>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::write {

/// Writes a netlist as one XML file. Errors: file_unwritable, without a place; bad_text, with the place of
/// the row.
[[nodiscard]] Result<void> write_xml_file(const Netlist& netlist, const std::filesystem::path& path);

}  // namespace ringtrue::write
