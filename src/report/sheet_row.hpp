#pragma once
#include <string>
#include <string_view>

#include "ringtrue/base/csv_cell.hpp"

namespace ringtrue::report {

/// Appends a cell of a sheet. One that a spreadsheet would take for a formula begins with an apostrophe.
/// Source of the form: RFC 4180.
void put_cell(std::string& out, std::string_view cell);

/// Appends a row of cells with its line end.
template <class Row>
void put_row(std::string& out, const Row& cells) {
  bool is_first = true;
  for (const auto& cell : cells) {
    if (!is_first) out += ',';
    is_first = false;
    put_cell(out, cell);
  }
  out += k_csv_line_end;
}

}  // namespace ringtrue::report
