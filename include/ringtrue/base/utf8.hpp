#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace ringtrue {

/// Where the first byte stands that is no UTF-8; nothing if all of it is. Source: RFC 3629, section 4.
[[nodiscard]] std::optional<std::size_t> first_bad_utf8(std::string_view text);

/// All of it is ASCII.
[[nodiscard]] bool is_ascii(std::string_view text);

/// `text` with U+FFFD in place of each control character that a terminal obeys, but for tabs and line ends.
[[nodiscard]] std::string with_controls_shown(std::string_view text);

}  // namespace ringtrue
