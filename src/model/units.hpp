#pragma once
#include <array>
#include <span>
#include <string_view>

// Units that an export may write beside a number whose column means just them. General knowledge, no source.
namespace ringtrue::units {

inline constexpr std::array<std::string_view, 4> square_millimetres = {"mm²", "mm2", "mm^2", "qmm"};
inline constexpr std::array<std::string_view, 1> gauge = {"AWG"};
inline constexpr std::array<std::string_view, 1> metres = {"m"};
inline constexpr std::array<std::string_view, 6> ohms = {"Ω", "\xE2\x84\xA6", "ohms", "ohm", "Ohms", "Ohm"};
inline constexpr std::array<std::string_view, 5> volts = {"VDC", "V DC", "VAC", "V AC", "V"};
inline constexpr std::array<std::string_view, 1> amperes = {"A"};
inline constexpr std::array<std::string_view, 1> percent = {"%"};

}  // namespace ringtrue::units

namespace ringtrue {

/// `0.75 mm²`, `AWG 18` -> `0.75`, `18`: a number without the unit behind or before it. Any other text stays
/// as it is.
[[nodiscard]] std::string_view without_unit(std::string_view text, std::span<const std::string_view> units);

}  // namespace ringtrue
