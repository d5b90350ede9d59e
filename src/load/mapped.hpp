#pragma once
#include "load/mapping.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue::load {

/// Reads an export into the builder as a mapping file says, table by table. Files are looked for beside the
/// mapping file, all in `files`. Columns that the mapping names must be there; fields that it doesn't name
/// are found by their own names or trade words, in CSV alone. Errors, all given to the builder: those of
/// `read_mapping`, of the files, of CSV and XML, and bad_mapping for an XPath that is none.
void read_mapped(const std::filesystem::path& mapping_file, const LoadLimits& limits, const Files& files,
                 NetlistBuilder& builder);

}  // namespace ringtrue::load
