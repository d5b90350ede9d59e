#pragma once
#include <filesystem>
#include <span>
#include <string_view>

#include "job/rows.hpp"
#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue::job {

/// Columns beside those of a row, and their cells.
using Further = std::span<const std::string_view>;

/// The header of a CSV file of rows, with further columns.
template <class Row, class Put>
void put_header(Further further_names, Put put) {
  std::string_view comma;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    put(comma);
    put(field.name);
    comma = ",";
  }
  for (const std::string_view name : further_names) {
    put(",");
    put(name);
  }
  put(k_csv_line_end);
}

/// A row of it.
template <class Row, class Put>
void put_row(const Row& row, Further further, Put put) {
  std::string_view comma;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    put(comma);
    put_csv_cell(row.*field.member, put);
    comma = ",";
  }
  for (const std::string_view cell : further) {
    put(",");
    put_csv_cell(cell, put);
  }
  put(k_csv_line_end);
}

/// A CSV file of rows.
template <class Row>
class RowsFile {
 public:
  RowsFile(const std::filesystem::path& path, Further further_names) : file_(path) {
    put_header<Row>(further_names, [&](std::string_view text) { file_.put(text); });
  }

  void put(const Row& row, Further further) {
    put_row(row, further, [&](std::string_view text) { file_.put(text); });
  }

  [[nodiscard]] Result<void> finish() { return file_.finish(); }

 private:
  write::OutputFile file_;
};

}  // namespace ringtrue::job
