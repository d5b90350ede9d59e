#include "record/html_text.hpp"

#include <array>
#include <span>
#include <utility>

namespace ringtrue::record {

namespace {

using Replaced = std::pair<std::string_view, std::string_view>;

constexpr std::array<Replaced, 5> k_entities = {
    {{"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}, {"\"", "&quot;"}, {"'", "&#39;"}}};

constexpr std::array<Replaced, 12> k_marks = {{{"\xD8\x9C", "[U+061C]"},
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

std::string replaced(std::string_view text, std::span<const Replaced> table) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    std::size_t taken = 1;
    std::string_view put = text.substr(0, 1);
    for (const auto& [found, shown] : table)
      if (text.starts_with(found)) taken = found.size(), put = shown;
    if (is_control(text[0]))
      out += named(text[0]);
    else
      out += put;
    text.remove_prefix(taken);
  }
  return out;
}

std::string with_marks_named(std::string_view text) { return replaced(text, k_marks); }

}  // namespace

std::string html_text(std::string_view text) { return replaced(with_marks_named(text), k_entities); }

std::string css_text(std::string_view text, std::size_t longest) {
  constexpr std::string_view k_digits = "0123456789ABCDEF", k_cut = "...";
  std::string named = with_marks_named(text);
  if (named.size() > longest) {
    std::size_t end = longest - k_cut.size();
    while (end != 0 && (static_cast<unsigned char>(named[end]) & 0xC0u) == 0x80u) --end;
    named.resize(end);
    named += k_cut;
  }
  std::string out = "\"";
  for (const char c : named) {
    const auto byte = static_cast<unsigned char>(c);
    const bool is_plain = byte >= 0x80 || c == ' ' || (c >= '0' && c <= '9') || (c >= 'A' && c <= 'Z') ||
                          (c >= 'a' && c <= 'z');
    if (is_plain)
      out += c;
    else
      out += std::string("\\") + k_digits[byte / 16] + k_digits[byte % 16] + ' ';
  }
  return out + "\"";
}

}  // namespace ringtrue::record
