#pragma once
#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "load/bridges.hpp"
#include "load/file.hpp"

namespace ringtrue::load {

/// Where the text of a field comes from, in an export that doesn't name it as we do.
struct MappedField {
  std::string field;
  std::vector<std::string> columns;  ///< joined in this order; in XML, XPaths below the row's element
  std::string with;                  ///< between two columns that both hold text
  std::string value;                 ///< for every row, where there are no columns
  /// What the text means, compared without regard to case; text that isn't listed stays as it is.
  std::map<std::string, std::string> values;
};

/// `bridges`: a list of terminals bridged to each other, as `BridgeRow` has it.
enum class MappedTable : std::uint8_t { conductors, parts, channels, potentials, bridges };

/// One table of the netlist in one file of the export.
struct TableMapping {
  MappedTable table = MappedTable::conductors;
  std::filesystem::path file;           ///< beside the mapping file, unless it's absolute
  std::uint32_t line = 0;               ///< of the table's heading in the mapping file
  std::optional<std::uint32_t> header;  ///< line of the header row; else it is looked for
  std::string rows;                     ///< XPath of the rows' elements; the file is XML then
  std::vector<std::string> fill_down;   ///< columns whose empty cells mean the text above
  std::string chain;                    ///< parts several points in one `to` cell: from - first - second ...
  std::vector<MappedField> fields;      ///< the others are found by their names
};

/// A fact as in panel.csv.
struct MappedFact {
  std::string key, value;
  std::uint32_t line = 0;
};

/// What a mapping file says: how an export becomes a netlist.
struct Mapping {
  std::vector<MappedFact> panel;
  std::vector<TableMapping> tables;
};

/// Reads a mapping file (TOML).
/// @errors bad_mapping: no TOML, a key that means nothing (with the nearest), a value of another kind, a
/// table without a file, a field that the table doesn't have; each with its line.
[[nodiscard]] Result<Mapping> read_mapping(const FileText& file);

}  // namespace ringtrue::load
