#include <algorithm>

#include "ringtrue/record/record.hpp"
#include "ringtrue/report/csv_sheet.hpp"

namespace ringtrue {

std::string record_punch_csv(const Record& record) {
  const auto punch = std::find_if(record.sheets.begin(), record.sheets.end(),
                                  [](const RecordSheet& sheet) { return sheet.key == "punch"; });
  std::string out;
  std::vector<std::string_view> keys;
  for (const RecordColumn& column : punch->columns) keys.push_back(column.key);
  report::put_sheet_header(out, keys);
  for (const std::vector<RecordCell>& row : punch->rows) {
    std::vector<report::SheetCell> cells;
    for (const RecordCell& cell : row)
      cells.emplace_back(cell.number ? std::to_string(*cell.number) : cell.text, cell.number.has_value());
    report::put_sheet_row(out, std::span<const report::SheetCell>(cells));
  }
  return out;
}

}  // namespace ringtrue
