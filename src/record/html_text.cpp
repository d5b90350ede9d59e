#include "record/html_text.hpp"

#include <array>
#include <utility>

namespace ringtrue::record {

namespace {

using Replaced = std::pair<std::string_view, std::string_view>;

constexpr std::array<Replaced, 17> k_replaced = {{{"&", "&amp;"},
                                                  {"<", "&lt;"},
                                                  {">", "&gt;"},
                                                  {"\"", "&quot;"},
                                                  {"'", "&#39;"},
                                                  {"\xD8\x9C", "[U+061C]"},
                                                  {"\xE2\x80\x8E", "[U+200E]"},
                                                  {"\xE2\x80\x8F", "[U+200F]"},
                                                  {"\xE2\x80\xAA", "[U+202A]"},
                                                  {"\xE2\x80\xAB", "[U+202B]"},
                                                  {"\xE2\x80\xAC", "[U+202C]"},
                                                  {"\xE2\x80\xAD", "[U+202D]"},
                                                  {"\xE2\x80\xAE", "[U+202E]"},
                                                  {"\xE2\x81\xA6", "[U+2066]"},
                                                  {"\xE2\x81\xA7", "[U+2067]"},
                                                  {"\xE2\x81\xA8", "[U+2068]"},
                                                  {"\xE2\x81\xA9", "[U+2069]"}}};

bool is_control(char c) {
  const auto byte = static_cast<unsigned char>(c);
  return (byte < 0x20 && c != '\n' && c != '\t') || byte == 0x7F;
}

std::string named(char control) {
  constexpr std::string_view k_digits = "0123456789ABCDEF";
  const auto byte = static_cast<unsigned char>(control);
  return std::string("[U+00") + k_digits[byte / 16] + k_digits[byte % 16] + "]";
}

}  // namespace

std::string html_text(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    std::size_t taken = 1;
    std::string_view put = text.substr(0, 1);
    for (const auto& [found, shown] : k_replaced)
      if (text.starts_with(found)) taken = found.size(), put = shown;
    if (is_control(text[0]))
      out += named(text[0]);
    else
      out += put;
    text.remove_prefix(taken);
  }
  return out;
}

}  // namespace ringtrue::record
