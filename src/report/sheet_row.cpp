#include "sheet_row.hpp"

namespace ringtrue::report {

void put_cell(std::string& out, std::string_view cell) {
  const bool is_like_a_formula = !cell.empty() && std::string_view("=+-@\t\r").find(cell[0]) != cell.npos;
  const std::string text = (is_like_a_formula ? "'" : "") + std::string(cell);
  put_csv_cell(text, [&out](std::string_view piece) { out += piece; });
}

}  // namespace ringtrue::report
