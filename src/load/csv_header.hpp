#pragma once
#include <cstddef>
#include <span>
#include <string_view>
#include <vector>

#include "load/csv.hpp"
#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::load {

/// A column that the rows of a file may have.
struct KnownColumn {
  std::string_view name;
  bool required = false;
};

/// What the header of a CSV file says.
struct CsvHeader {
  struct Use {
    std::size_t column;  ///< index of the cell
    std::size_t known;   ///< index into the known columns
  };
  std::vector<Use> uses;    ///< in the order of the columns
  Errors errors;            ///< if there are any, the rows mean nothing
  std::vector<Note> notes;  ///< columns that nobody reads
};

/// Reads the first record and finds the known columns in it, without regard to case. The reader then expects
/// as many cells in every row. Errors in the result: no_header (empty file, or no known column at all),
/// missing_column, repeated_column, and what the reader itself finds.
[[nodiscard]] CsvHeader read_csv_header(CsvReader& reader, std::span<const KnownColumn> known);

}  // namespace ringtrue::load
