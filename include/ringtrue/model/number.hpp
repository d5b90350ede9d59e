#pragma once
#include <cstdint>
#include <optional>
#include <string_view>

namespace ringtrue {

/// Reads a whole text as a decimal number; a decimal comma is taken as a point. Nothing if anything else is
/// in it.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);
/// The number itself where it is whole and an int holds it: `2`, `2.0`, but neither `2.5` nor `1e10`.
[[nodiscard]] std::optional<int> as_int(double number);
/// Reads a whole text as a whole number in digits. Nothing if anything else is in it, or it is below `least`.
[[nodiscard]] std::optional<std::int64_t> parse_whole_number(std::string_view text, std::int64_t least);
/// `18`, `1/0` -> 18, 0; `4/0` is -3. Nothing if it's no gauge from 40 to 4/0.
[[nodiscard]] std::optional<int> parse_awg(std::string_view text);
/// Without blanks, tabs and line ends at both ends.
[[nodiscard]] std::string_view trimmed(std::string_view text);

}  // namespace ringtrue
