#include "ringtrue/base/utf8.hpp"

#include <array>
#include <cstdint>
#include <cstring>

namespace ringtrue {

namespace {

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

/// Most files are plain ASCII, so the way to the next other byte goes by four words at once.
std::size_t next_non_ascii(std::string_view text, std::size_t at) {
  constexpr std::uint64_t k_high_bits = 0x8080808080808080u;
  std::array<std::uint64_t, 4> words;
  for (; at + sizeof words <= text.size(); at += sizeof words) {
    std::memcpy(words.data(), text.data() + at, sizeof words);
    if (((words[0] | words[1] | words[2] | words[3]) & k_high_bits) != 0) break;
  }
  while (at < text.size() && static_cast<unsigned char>(text[at]) < 0x80) ++at;
  return at;
}

}  // namespace

std::optional<std::size_t> first_bad_utf8(std::string_view text) {
  for (std::size_t at = next_non_ascii(text, 0); at < text.size(); at = next_non_ascii(text, at)) {
    const std::size_t length = character_length(text, at);
    if (length == 0) return at;
    at += length;
  }
  return std::nullopt;
}

bool is_ascii(std::string_view text) { return next_non_ascii(text, 0) == text.size(); }

std::string with_controls_shown(std::string_view text) {
  std::string shown;
  shown.reserve(text.size());
  for (const char c : text) {
    const bool is_layout = c == '\t' || c == '\n' || c == '\r';
    if (static_cast<unsigned char>(c) < 0x20 && !is_layout)
      shown += "\uFFFD";
    else
      shown += c;
  }
  return shown;
}

}  // namespace ringtrue
