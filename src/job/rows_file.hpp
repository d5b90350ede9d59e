#pragma once
#include <filesystem>
#include <string_view>

#include "job/rows.hpp"
#include "ringtrue/base/csv_cell.hpp"
#include "ringtrue/write/whole_file.hpp"

namespace ringtrue::job {

/// A CSV file of rows, with one more column where it has a name.
template <class Row>
class RowsFile {
 public:
  RowsFile(const std::filesystem::path& path, std::string_view further_name)
      : file_(path), has_further_(!further_name.empty()) {
    std::string_view comma;
    for (const FieldOf<Row>& field : fields_of<Row>()) {
      file_.put(comma);
      file_.put(field.name);
      comma = ",";
    }
    if (has_further_) file_.put(',');
    file_.put(further_name);
    file_.put(k_csv_line_end);
  }

  void put(const Row& row, std::string_view further) {
    const auto put_text = [&](std::string_view text) { file_.put(text); };
    std::string_view comma;
    for (const FieldOf<Row>& field : fields_of<Row>()) {
      file_.put(comma);
      put_csv_cell(row.*field.member, put_text);
      comma = ",";
    }
    if (has_further_) {
      file_.put(',');
      put_csv_cell(further, put_text);
    }
    file_.put(k_csv_line_end);
  }

  [[nodiscard]] Result<void> finish() { return file_.finish(); }

 private:
  write::OutputFile file_;
  bool has_further_;
};

}  // namespace ringtrue::job
