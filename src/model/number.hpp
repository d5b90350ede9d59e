#pragma once
#include <optional>
#include <string_view>

namespace ringtrue {

/// Reads a whole text as a decimal number; a decimal comma is taken as a point. Nothing if anything else is
/// in it.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);
[[nodiscard]] std::string_view trimmed(std::string_view text);

}  // namespace ringtrue
