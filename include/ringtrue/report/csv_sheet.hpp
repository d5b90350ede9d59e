#pragma once
#include <span>
#include <string>
#include <string_view>
#include <utility>

namespace ringtrue::report {

/// A cell of a sheet that people fill in with a spreadsheet.
struct SheetCell {
  SheetCell(std::string cell_text, bool number = false) : text(std::move(cell_text)), is_number(number) {}
  std::string text;
  bool is_number;  ///< made by us: it may begin with a minus
};

/// Appends a row of CSV. An apostrophe stands before text that a spreadsheet would calculate.
void put_sheet_row(std::string& out, std::span<const SheetCell> cells);
void put_sheet_row(std::string& out, std::span<const std::string> cells);
/// Column names need no apostrophe.
void put_sheet_header(std::string& out, std::span<const std::string_view> columns);

}  // namespace ringtrue::report
