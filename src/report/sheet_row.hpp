#pragma once
#include <string>
#include <string_view>

#include "ringtrue/base/csv_cell.hpp"

namespace ringtrue::report {

/// Adds a row of a sheet. A cell that a spreadsheet would take for a formula begins with an apostrophe.
template <class Row>
void put_sheet_row(std::string& out, const Row& cells) {
  bool is_first = true;
  for (const std::string_view cell : cells) {
    if (!is_first) out += ',';
    is_first = false;
    const bool is_like_a_formula =
        !cell.empty() && std::string_view("=+-@\t\r").find(cell[0]) != std::string_view::npos;
    const std::string text = (is_like_a_formula ? "'" : "") + std::string(cell);
    put_csv_cell(text, [&out](std::string_view piece) { out += piece; });
  }
  out += k_csv_line_end;
}

}  // namespace ringtrue::report
