#pragma once
#include <array>
#include <string_view>

#include "ringtrue/base/text_list.hpp"

namespace ringtrue {

/// Optional text fields of many rows, stored by column, so that a column which no row fills costs nothing.
/// `Field` is an enum class with a last value `count_`.
template <class Field>
class TextColumns {
 public:
  [[nodiscard]] std::string_view get(Field field, std::size_t row) const {
    const TextList& column = columns_[static_cast<std::size_t>(field)];
    return row < column.size() ? column[row] : std::string_view{};
  }
  /// No row fills the column.
  [[nodiscard]] bool is_empty(Field field) const { return columns_[static_cast<std::size_t>(field)].empty(); }
  /// Rows in any order, cheapest in rising; empty text is not stored at the end of a column.
  void set(Field field, std::size_t row, std::string_view text) {
    TextList& column = columns_[static_cast<std::size_t>(field)];
    if (row < column.size()) return column.replace(row, text);
    if (text.empty()) return;
    if (column.empty()) column.reserve(expected_rows_);
    if (column.size() < row) column.resize(row);
    column.push_back(text);
  }
  /// A hint that saves growing.
  void expect(std::size_t rows) { expected_rows_ = rows; }

 private:
  std::array<TextList, static_cast<std::size_t>(Field::count_)> columns_;
  std::size_t expected_rows_ = 0;
};

}  // namespace ringtrue
