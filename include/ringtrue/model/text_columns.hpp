#pragma once
#include <array>
#include <string_view>
#include <vector>

namespace ringtrue {

/// Optional text fields of many rows, stored by column, so that a column which no row fills costs nothing.
/// `Field` is an enum class with a last value `count_`.
template <class Field>
class TextColumns {
 public:
  [[nodiscard]] std::string_view get(Field field, std::size_t row) const {
    const auto& column = columns_[static_cast<std::size_t>(field)];
    return row < column.size() ? column[row] : std::string_view{};
  }
  /// No row fills the column.
  [[nodiscard]] bool is_empty(Field field) const { return columns_[static_cast<std::size_t>(field)].empty(); }
  /// Rows are set in rising order; empty text is not stored at the end of a column.
  void set(Field field, std::size_t row, std::string_view text) {
    if (text.empty()) return;
    auto& column = columns_[static_cast<std::size_t>(field)];
    if (column.size() <= row) column.resize(row + 1);
    column[row] = text;
  }
  void reserve(Field field, std::size_t rows) { columns_[static_cast<std::size_t>(field)].reserve(rows); }

 private:
  std::array<std::vector<std::string_view>, static_cast<std::size_t>(Field::count_)> columns_;
};

}  // namespace ringtrue
