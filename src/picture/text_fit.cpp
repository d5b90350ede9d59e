#include "text_fit.hpp"

#include <array>
#include <cmath>
#include <cstdint>

namespace ringtrue::picture {

namespace {

/// A character of a text: its value, or `k_no_character`, and how many bytes it takes.
struct Character {
  char32_t value = 0;
  std::size_t bytes = 1;
};
constexpr char32_t k_no_character = 0xFFFFFFFFu;
constexpr std::string_view k_replacement = "\xEF\xBF\xBD";

/// RFC 3629: shortest forms only, no surrogates.
Character character_at(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
  const unsigned char first = byte(0);
  if (first < 0x80) return {first, 1};
  const std::size_t bytes = first < 0xC2 ? 0 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : first < 0xF5 ? 4 : 0;
  if (bytes == 0 || text.size() - at < bytes) return {k_no_character, 1};
  char32_t value = first & (0x7Fu >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return {k_no_character, 1};
    value = (value << 6) | (byte(i) & 0x3Fu);
  }
  constexpr std::array<char32_t, 5> least{0, 0, 0x80, 0x800, 0x10000};
  const bool is_surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < least[bytes] || value > 0x10FFFF || is_surrogate) return {k_no_character, 1};
  return {value, bytes};
}

bool is_in_xml(char32_t c) { return c >= 0x20 && c != k_no_character && c != 0xFFFE && c != 0xFFFF; }

/// Turns the direction of the text behind it.
bool is_of_direction(char32_t c) {
  return c == 0x061C || c == 0x200E || c == 0x200F || (c >= 0x202A && c <= 0x202E) ||
         (c >= 0x2066 && c <= 0x2069);
}

std::string named(char32_t c) {
  constexpr std::string_view k_digits = "0123456789ABCDEF";
  std::string text = "[U+";
  for (const unsigned shift : {12u, 8u, 4u, 0u}) text += k_digits[(c >> shift) & 15u];
  return text + "]";
}

bool is_any_of(char32_t c, std::string_view set) {
  return c < 0x80 && set.find(static_cast<char>(c)) != std::string_view::npos;
}

/// In thousandths of the font's size: no less than any character of the group has in DejaVu Sans or DejaVu
/// Sans Bold, which are wider than most fonts.
int thousandths(char32_t c, Weight weight) {
  const bool bold = weight == Weight::bold;
  if (is_any_of(c, "iljI.,:;'|")) return bold ? 420 : 340;
  if (is_any_of(c, " !frt()[]/\\-\"J")) return bold ? 530 : 470;
  if (is_any_of(c, "mwMW@%+=<>#~^&")) return bold ? 1110 : 1010;
  if (c >= 'A' && c <= 'Z') return bold ? 860 : 800;
  if (c < 0x80) return bold ? 760 : 650;
  return c < 0x0180 ? 1170 : c < 0x0530 ? 1560 : 2020;
}

/// Stands over, under or through the character before it.
bool is_combining(char32_t c) {
  return (c >= 0x0300 && c <= 0x036F) || (c >= 0x1AB0 && c <= 0x1AFF) || (c >= 0x1DC0 && c <= 0x1DFF) ||
         (c >= 0x20D0 && c <= 0x20FF) || (c >= 0xFE00 && c <= 0xFE0F) || (c >= 0xFE20 && c <= 0xFE2F);
}

/// How good a place the end of a line is behind this character; 0: none at all.
int ease_of_break(char32_t c) {
  if (c == ' ') return 3;
  if (is_any_of(c, ";,/_-+=~)")) return 2;
  return is_any_of(c, ":.@") ? 1 : 0;
}

}  // namespace

std::string readable(std::string_view text) {
  std::string clean;
  for (std::size_t at = 0; at < text.size();) {
    const Character c = character_at(text, at);
    if (c.value == '\t' || c.value == '\n' || c.value == '\r')
      clean += ' ';
    else if (is_of_direction(c.value))
      clean += named(c.value);
    else
      clean += is_in_xml(c.value) ? text.substr(at, c.bytes) : k_replacement;
    at += c.bytes;
  }
  return clean;
}

int greatest_width(std::string_view text, int font_px, Weight weight) {
  int width = 0;
  for (std::size_t at = 0; at < text.size();) {
    const Character c = character_at(text, at);
    width += thousandths(c.value, weight);
    at += c.bytes;
  }
  return (width * font_px + 999) / 1000;
}

std::vector<std::string> wrapped(std::string_view text, int width, int font_px, Weight weight) {
  std::vector<std::string> lines;
  const int limit = width * 1000 / font_px;
  while (!text.empty()) {
    std::size_t end = 0, good_end = 0;
    int ease = 1;
    for (int used = 0; end < text.size();) {
      const Character c = character_at(text, end);
      used += thousandths(c.value, weight);
      const bool is_mark = is_combining(c.value);
      if (used > limit && end != 0 && c.value != ' ' && !is_mark) break;
      if (is_mark && good_end == end && end != 0) good_end += c.bytes;
      end += c.bytes;
      if (ease_of_break(c.value) < ease) continue;
      ease = ease_of_break(c.value);
      good_end = end;
    }
    if (end < text.size() && good_end != 0) end = good_end;
    std::string_view line = text.substr(0, end);
    text.remove_prefix(end);
    while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
    while (!line.empty() && line.back() == ' ') line.remove_suffix(1);
    if (!line.empty()) lines.emplace_back(line);
  }
  return lines;
}

std::vector<std::string> fitted(std::string_view text, int width, int font_px, Weight weight,
                                std::size_t most) {
  constexpr std::string_view k_ellipsis = "\xE2\x80\xA6";
  // No character is narrower than a third of the font's size: of a long text no more is looked at.
  std::size_t enough = 4 * most * static_cast<std::size_t>(3 * width / font_px + 2);
  while (enough < text.size() && (static_cast<unsigned char>(text[enough]) & 0xC0) == 0x80) ++enough;
  std::vector<std::string> lines = wrapped(text.substr(0, enough), width, font_px, weight);
  if (lines.size() <= most && text.size() <= enough) return lines;
  lines.resize(most);
  std::string& last = lines.back();
  while (!last.empty() && greatest_width(last + std::string(k_ellipsis), font_px, weight) > width) {
    while (last.size() > 1 && (static_cast<unsigned char>(last.back()) & 0xC0) == 0x80) last.pop_back();
    last.pop_back();
  }
  last += k_ellipsis;
  return lines;
}

}  // namespace ringtrue::picture
