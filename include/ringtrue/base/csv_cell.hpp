#pragma once
#include <string_view>

namespace ringtrue {

/// Source: RFC 4180, section 2, rule 1.
inline constexpr std::string_view k_csv_line_end = "\r\n";

/// Writes a cell of a CSV file by `put(std::string_view)`, in quotes where it needs them.
/// Source: RFC 4180, section 2, rules 5 to 7.
template <class Put>
void put_csv_cell(std::string_view text, Put put) {
  if (text.find_first_of(",\"\r\n") == text.npos) return put(text);
  put("\"");
  for (std::size_t quote = text.find('"'); quote != text.npos; quote = text.find('"')) {
    put(text.substr(0, quote + 1));
    put("\"");
    text.remove_prefix(quote + 1);
  }
  put(text);
  put("\"");
}

}  // namespace ringtrue
