#pragma once
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ringtrue::report {

/// Longest line of a text report. A sheet of A4 in a 10 point typewriter face holds it, and so does a split
/// screen.
inline constexpr std::size_t k_line_width = 98;

/// Columns that UTF-8 text takes, one per code point (names and units hold no wide or combining characters).
[[nodiscard]] std::size_t shown_width(std::string_view text);

/// The text with blanks after it up to `width` columns; unchanged if it is longer.
[[nodiscard]] std::string padded(std::string_view text, std::size_t width);

/// Appends `text` as lines, broken at blanks. The first line begins at column `indent`, further ones at
/// `hanging`.
void append_wrapped(std::string& out, std::string_view text, std::size_t indent, std::size_t hanging);

/// The same behind a label in its own column: `label` is padded to `width`, all lines of `text` stand behind
/// it.
void append_entry(std::string& out, std::size_t indent, std::string_view label, std::size_t width,
                  std::string_view text);

/// One element of a walk, for `append_walk`.
struct WalkRow {
  std::string from, element, to, sheet, value;
};
/// Appends a walk as a table, a line per element: `X1:4.int  --  wire 5  ->  A1:0.0  sheet 1.4`.
void append_walk(std::string& out, std::size_t indent, std::span<const WalkRow> rows);

/// `1 reading`, `2 readings`.
[[nodiscard]] std::string counted(std::size_t number, std::string_view noun);

/// Three digits: `0.0005`, `3.33e-5`, `25`.
[[nodiscard]] std::string number_text(double number);

/// `a, b, c`
[[nodiscard]] std::string joined(std::span<const std::string> texts, std::string_view between = ", ");

/// `a, b or c`
[[nodiscard]] std::string any_of(std::span<const std::string> texts);

/// The first letter in upper case, for a noun that begins a sentence.
[[nodiscard]] std::string capitalised(std::string text);

}  // namespace ringtrue::report
