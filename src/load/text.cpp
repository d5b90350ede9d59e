#include "load/text.hpp"

#include <algorithm>
#include <cstring>

namespace ringtrue::load {

namespace {

constexpr std::string_view k_nbsp = "\xC2\xA0";

bool is_blank(char c) { return c == ' ' || c == '\t'; }

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

/// How the bytes after a leading byte must look. The second byte has bounds of its own where the general ones
/// would let in overlong forms, surrogates, or numbers above U+10FFFF.
struct Sequence {
  std::size_t length;
  unsigned char second_least, second_most;
};

Sequence sequence_of(unsigned char lead) {
  if (lead < 0x80) return {1, 0, 0};
  if (lead >= 0xC2 && lead <= 0xDF) return {2, 0x80, 0xBF};
  if (lead == 0xE0) return {3, 0xA0, 0xBF};
  if (lead == 0xED) return {3, 0x80, 0x9F};
  if (lead >= 0xE1 && lead <= 0xEF) return {3, 0x80, 0xBF};
  if (lead == 0xF0) return {4, 0x90, 0xBF};
  if (lead >= 0xF1 && lead <= 0xF3) return {4, 0x80, 0xBF};
  if (lead == 0xF4) return {4, 0x80, 0x8F};
  return {0, 0, 0};
}

/// Length of the character at `at`, 0 if it is malformed or cut off.
std::size_t character_length(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[at + i]); };
  const Sequence sequence = sequence_of(byte(0));
  if (sequence.length <= 1) return sequence.length;
  if (text.size() - at < sequence.length) return 0;
  if (byte(1) < sequence.second_least || byte(1) > sequence.second_most) return 0;
  for (std::size_t i = 2; i < sequence.length; ++i)
    if ((byte(i) & 0xC0) != 0x80) return 0;
  return sequence.length;
}

/// Most files are plain ASCII, so the way to the next other byte goes by words.
std::size_t next_non_ascii(std::string_view text, std::size_t at) {
  constexpr std::uint64_t k_high_bits = 0x8080808080808080u;
  std::uint64_t word = 0;
  for (; at + sizeof word <= text.size(); at += sizeof word) {
    std::memcpy(&word, text.data() + at, sizeof word);
    if ((word & k_high_bits) != 0) break;
  }
  while (at < text.size() && static_cast<unsigned char>(text[at]) < 0x80) ++at;
  return at;
}

}  // namespace

std::string_view trimmed(std::string_view text) {
  for (;;) {
    if (!text.empty() && is_blank(text.front()))
      text.remove_prefix(1);
    else if (text.substr(0, 2) == k_nbsp)
      text.remove_prefix(2);
    else
      break;
  }
  for (;;) {
    if (!text.empty() && is_blank(text.back()))
      text.remove_suffix(1);
    else if (text.size() >= 2 && text.substr(text.size() - 2) == k_nbsp)
      text.remove_suffix(2);
    else
      break;
  }
  return text;
}

bool equal_without_case(std::string_view a, std::string_view b) {
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

std::optional<std::size_t> first_bad_utf8(std::string_view text) {
  for (std::size_t at = next_non_ascii(text, 0); at < text.size(); at = next_non_ascii(text, at)) {
    const std::size_t length = character_length(text, at);
    if (length == 0) return at;
    at += length;
  }
  return std::nullopt;
}

std::uint32_t count_line_ends(std::string_view text) {
  std::uint32_t count = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool is_lone_cr = text[i] == '\r' && (i + 1 == text.size() || text[i + 1] != '\n');
    if (text[i] == '\n' || is_lone_cr) ++count;
  }
  return count;
}

std::string excerpt(std::string_view text) {
  constexpr std::size_t k_longest = 60;
  std::string result(text.substr(0, k_longest));
  if (text.size() > k_longest) {
    std::size_t cut = k_longest;
    while (cut > 0 && (static_cast<unsigned char>(text[cut]) & 0xC0) == 0x80) --cut;
    result.resize(cut);
    result += "...";
  }
  std::replace_if(
      result.begin(), result.end(), [](char c) { return c == '\n' || c == '\r' || c == '\t'; }, ' ');
  return result;
}

LineIndex::LineIndex(std::string_view text) : starts_{0} {
  for (std::size_t at = text.find('\n'); at < text.size(); at = text.find('\n', at + 1))
    if (at + 1 < text.size()) starts_.push_back(static_cast<std::uint32_t>(at + 1));
}

std::uint32_t LineIndex::line_of(std::size_t offset) const {
  const auto after = std::upper_bound(starts_.begin(), starts_.end(), offset);
  return static_cast<std::uint32_t>(after - starts_.begin());
}

}  // namespace ringtrue::load
