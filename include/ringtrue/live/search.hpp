#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/live/drawing.hpp"

namespace ringtrue {

/// Something on the drawing whose name or text holds what was looked for.
struct Match {
  enum class Kind : std::uint8_t { point, wire, channel };
  Kind kind = Kind::point;
  std::string name;   ///< `X1:5`, a wire number, a channel's tag or else its address
  std::string text;   ///< what lands there; for a wire its ends; for a channel its point and text
  std::string sheet;  ///< of a wire
  /// Both sides of a terminal; both ends of a wire; the channel's point and its field terminal.
  std::vector<std::string> points;
};
[[nodiscard]] std::string_view word(Match::Kind kind);  ///< `point`, `wire`, `channel`

/// Points, wires and channels whose name is `text`, begins with it, or holds it, in this order and without
/// regard to case; channels also by address and text. At most `most`. Cost: linear in the names. Thread-safe.
[[nodiscard]] std::vector<Match> search(const Drawing& drawing, std::string_view text, std::size_t most);

}  // namespace ringtrue
