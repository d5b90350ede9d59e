#pragma once
#include <string>
#include <string_view>
#include <vector>

// Text in a picture whose fonts are not known: what may stand in it, how wide it is at most, where it breaks.

namespace ringtrue::picture {

enum class Weight : std::uint8_t { regular, bold };

/// The text as UTF-8 that XML 1.0 can hold (fifth edition, section 2.2, `Char`): U+FFFD stands for each byte
/// that is no UTF-8 and each character that XML lacks, a blank for each tab and line end, and the name of
/// each mark that turns the direction of text, as `[U+202E]`.
[[nodiscard]] std::string readable(std::string_view text);

/// No less than the text takes in `font_px`, in px.
[[nodiscard]] int greatest_width(std::string_view text, int font_px, Weight weight);

/// The text in lines of at most `width` px, broken at blanks, else behind signs such as `-`, else `:`, a
/// longer word anywhere. A line holds one character at least, and the lines in a row are the text, but for
/// blanks at breaks.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, int width, int font_px, Weight weight);

/// The same in `most` lines at most; what doesn't fit is left out behind an ellipsis.
[[nodiscard]] std::vector<std::string> fitted(std::string_view text, int width, int font_px, Weight weight,
                                              std::size_t most);

}  // namespace ringtrue::picture
