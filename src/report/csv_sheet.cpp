#include "ringtrue/report/csv_sheet.hpp"

#include "ringtrue/base/csv_cell.hpp"

namespace ringtrue::report {

namespace {

/// A spreadsheet calculates what begins like a formula.
bool is_like_a_formula(std::string_view text) {
  return !text.empty() && std::string_view("=+-@\t\r").find(text[0]) != std::string_view::npos;
}

std::string as_text(const std::string& cell) { return (is_like_a_formula(cell) ? "'" : "") + cell; }

template <class Cells, class TextOf>
void put_row(std::string& out, const Cells& cells, TextOf text_of) {
  bool is_first = true;
  for (const auto& cell : cells) {
    if (!is_first) out += ',';
    is_first = false;
    put_csv_cell(text_of(cell), [&out](std::string_view piece) { out += piece; });
  }
  out += k_csv_line_end;
}

}  // namespace

void put_sheet_row(std::string& out, std::span<const SheetCell> cells) {
  put_row(out, cells, [](const SheetCell& cell) { return cell.is_number ? cell.text : as_text(cell.text); });
}

void put_sheet_row(std::string& out, std::span<const std::string> cells) { put_row(out, cells, as_text); }

void put_sheet_header(std::string& out, std::span<const std::string_view> columns) {
  put_row(out, columns, [](std::string_view column) { return column; });
}

}  // namespace ringtrue::report
