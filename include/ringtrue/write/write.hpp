#pragma once
#include <cstdint>
#include <filesystem>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What happens to a file or folder that stands where the netlist is to be written.
enum class Existing : std::uint8_t {
  refuse,   ///< it stays, and nothing is written
  replace,  ///< the whole netlist takes its place, in one step
};

/// Writes a netlist so that `load_netlist` gives the same again: its points, records, texts and values.
///
/// A name that ends in `.xml` becomes one XML file, as netlists/schema/netlist.xsd has it; any other a folder
/// of CSV files: conductors.csv, and those of panel, parts, channels and potentials that have something to
/// say. Columns stand in the order of `fields_of`, and only where a row fills them or every such file needs
/// them. Every point of a terminal is written with its side. Conductors listed twice are written once, as
/// loaded. In XML, sizes and lengths are written as the schema has numbers: `1,5` becomes `1.5`.
///
/// Nothing partial ever stands under the name: all is made and brought to the disk under a temporary name
/// beside it (`.ringtrue-...`, which a process killed at work leaves behind), then renamed. Rows are written
/// one by one, so the text is never held twice.
///
/// @param existing  `replace` takes the place of a file by a file and of a folder by a folder, of a folder
/// only if
///                  it holds nothing but tables of a netlist: readings beside them would be lost.
/// @errors file_exists (what stands there may not be replaced); file_unwritable (no such folder, no
/// permission, a
///         full disk, with the system's reason); bad_text (a control character, which XML can't hold).
/// Source: RFC 4180 (CSV, lines end in CR LF); XML 1.0, fifth edition, sections 2.2 and 2.3.
[[nodiscard]] Result<void> write_netlist(const Netlist& netlist, const std::filesystem::path& out,
                                         Existing existing = Existing::refuse);

}  // namespace ringtrue
