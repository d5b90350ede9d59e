#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ringtrue::logic {

enum class TokenKind : std::uint8_t { name, address, number, time, sign, end };

struct Token {
  TokenKind kind = TokenKind::end;
  std::string_view text;
  std::uint32_t line = 1;
};

/// What keeps a text from being cut into tokens.
struct BadToken {
  std::uint32_t line = 1;
  std::string message, found, expected;
};

struct Tokens {
  std::vector<Token> tokens;  ///< the last one is `end`
  std::optional<BadToken> bad;
};

/// Cuts Structured Text into tokens (views into `text`), without blanks and comments.
[[nodiscard]] Tokens tokens_of(std::string_view text);

/// Milliseconds of `T#1m30s`, `TIME#500ms`, `t#1.5s`; nothing if it is no duration, not whole milliseconds,
/// or above 24 days.
[[nodiscard]] std::optional<std::uint32_t> milliseconds_of(std::string_view literal);

[[nodiscard]] std::string in_capitals(std::string_view text);

}  // namespace ringtrue::logic
