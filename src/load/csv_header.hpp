#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "load/csv.hpp"
#include "load/trade_words.hpp"
#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::load {

/// A column that the rows of a file may have.
struct KnownColumn {
  std::string_view name;
  bool required = false;
  bool is_for_people =
      false;  ///< stands in the file for whoever works with it; not read, and no word is lost
};

/// What the header of a CSV file says.
struct CsvHeader {
  struct Use {
    std::size_t column;  ///< index of the cell
    std::size_t known;   ///< index into the known columns
  };
  std::vector<Use> uses;    ///< in the order of the columns
  Errors errors;            ///< if there are any, the rows mean nothing
  std::vector<Note> notes;  ///< columns that nobody reads, or that were taken by a trade word; rows above
  std::vector<std::string> cells;  ///< as they stand in the file
};

/// Where the header of a table stands, and what parts its cells.
struct HeaderPlace {
  std::uint32_t line = 1;
  char delimiter = ',';
};

/// A header that ends behind so many bytes isn't found.
constexpr std::size_t k_header_bytes = 65536;

/// Looks through the first 50 records for the first one in which every required column stands, by name or
/// trade word, with each delimiter; of the delimiters the one that gives the most known columns. Nothing if
/// there is none.
[[nodiscard]] std::optional<HeaderPlace> find_header(const FileText& file, std::span<const KnownColumn> known,
                                                     std::span<const TradeWord> words,
                                                     std::optional<std::uint32_t> line = std::nullopt);

/// That there is text above the header: a title, say. A line `sep=;` is none.
[[nodiscard]] std::vector<Note> notes_above(const FileText& file, std::uint32_t header_line);

/// Reads the next record and finds the known columns in it, by name without regard to case, else by trade
/// word. The reader then expects as many cells in every row. Errors in the result: no_header (empty file, or
/// no known column at all), missing_column, repeated_column (two columns for one field), and what the reader
/// itself finds.
[[nodiscard]] CsvHeader read_csv_header(CsvReader& reader, std::span<const KnownColumn> known,
                                        std::span<const TradeWord> words);

}  // namespace ringtrue::load
