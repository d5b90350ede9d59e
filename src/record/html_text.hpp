#pragma once
#include <string>
#include <string_view>

namespace ringtrue::record {

/// Text as it may stand in an element or a quoted attribute, and show as what it is: marks that would turn
/// the direction of what follows are named, `[U+202E]`, and so are control characters.
[[nodiscard]] std::string html_text(std::string_view text);

/// The same as a quoted string of CSS, of at most so many bytes before it is escaped.
[[nodiscard]] std::string css_text(std::string_view text, std::size_t longest);

}  // namespace ringtrue::record
