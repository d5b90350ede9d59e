#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace ringtrue::load {

/// `text` without blanks, tabs and non-breaking blanks (U+00A0) at its ends. Such blanks come with most
/// exports and are never part of a name.
[[nodiscard]] std::string_view trimmed(std::string_view text);

[[nodiscard]] bool equal_without_case(std::string_view a, std::string_view b);

/// Line ends in `text`: LF, CR LF, or a CR alone.
[[nodiscard]] std::uint32_t count_line_ends(std::string_view text);

/// `text` cut to a length that fits into a message, with `...` where something was cut. Line breaks and tabs
/// become blanks.
[[nodiscard]] std::string excerpt(std::string_view text);

/// Finds the line of an offset. Made before a parser changes the bytes in place; offsets stay right when it
/// does.
class LineIndex {
 public:
  explicit LineIndex(std::string_view text);
  [[nodiscard]] std::size_t size() const { return starts_.size(); }
  /// 1-based. Offsets past the end are on the last line that holds something. Fastest for offsets that rise
  /// by a line or so.
  [[nodiscard]] std::uint32_t line_of(std::size_t offset) const;

 private:
  std::vector<std::uint32_t> starts_;  ///< offset of each line's first byte
  mutable std::size_t last_ = 0;       ///< index of the line that was found last
};

}  // namespace ringtrue::load
