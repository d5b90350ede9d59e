#pragma once
#include "ringtrue/record/record.hpp"

// The lists of a record, each made by itself.

namespace ringtrue::record {

using Row = std::vector<RecordCell>;
using Kind = RecordColumn::Kind;

/// A column that stands below the one before it on paper.
constexpr RecordColumn below(std::string_view key, std::string_view title, Kind kind = Kind::text) {
  return {key, title, kind, RecordColumn::Place::below};
}
/// A column that stands above the rows that share it.
constexpr RecordColumn above(std::string_view key, std::string_view title) {
  return {key, title, Kind::text, RecordColumn::Place::above};
}

[[nodiscard]] RecordSheet coverage_sheet(const RecordSource& source, const RecordSheet& io,
                                         const RecordSheet& certificate);
[[nodiscard]] RecordSheet punch_sheet(const RecordSource& source, const RecordSheet& io);
[[nodiscard]] RecordSheet red_lines_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet buzz_out_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet io_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet bonding_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet insulation_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet readings_sheet(const RecordSource& source);  ///< all others
[[nodiscard]] RecordSheet temporary_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet instruments_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet people_sheet(const RecordSource& source);
[[nodiscard]] RecordSheet certificate_sheet(const RecordSource& source);

[[nodiscard]] std::vector<RecordSignature> signatures_of(const JobContents& contents);

/// The cell of a row under this key; the sheet has such a column.
[[nodiscard]] const RecordCell& cell_of(const RecordSheet& sheet, const Row& row, std::string_view key);

/// The texts with `between` between them.
[[nodiscard]] std::string joined(const std::vector<std::string>& texts, std::string_view between);
/// `1 reading`, `2 readings`.
[[nodiscard]] std::string counted(std::size_t number, std::string_view noun);

}  // namespace ringtrue::record
