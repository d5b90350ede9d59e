#pragma once
#include <filesystem>
#include <string_view>

#include "job/rows.hpp"
#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue::job {

/// The header of a CSV file of rows, with one more column where it has a name.
template <class Row, class Put>
void put_header(std::string_view further_name, Put put) {
  std::string_view comma;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    put(comma);
    put(field.name);
    comma = ",";
  }
  if (!further_name.empty()) put(",");
  put(further_name);
  put(k_csv_line_end);
}

/// A row of it. `further`: the cell of that column; null where there is none.
template <class Row, class Put>
void put_row(const Row& row, const std::string_view* further, Put put) {
  std::string_view comma;
  for (const FieldOf<Row>& field : fields_of<Row>()) {
    put(comma);
    put_csv_cell(row.*field.member, put);
    comma = ",";
  }
  if (further != nullptr) {
    put(",");
    put_csv_cell(*further, put);
  }
  put(k_csv_line_end);
}

/// A CSV file of rows.
template <class Row>
class RowsFile {
 public:
  RowsFile(const std::filesystem::path& path, std::string_view further_name)
      : file_(path), has_further_(!further_name.empty()) {
    put_header<Row>(further_name, [&](std::string_view text) { file_.put(text); });
  }

  void put(const Row& row, std::string_view further) {
    put_row(row, has_further_ ? &further : nullptr, [&](std::string_view text) { file_.put(text); });
  }

  [[nodiscard]] Result<void> finish() { return file_.finish(); }

 private:
  write::OutputFile file_;
  bool has_further_;
};

}  // namespace ringtrue::job
