#pragma once
#include <optional>
#include <string_view>

#include "ringtrue/model/kinds.hpp"

namespace ringtrue {

/// A kind as people write it: `from_word` in any case and with blanks or `_` for `-`, or another name that
/// the trade has for it in English or German, such as `Sicherung` for `fuse`. General knowledge of the trade,
/// no source.
template <class Enum>
[[nodiscard]] std::optional<Enum> from_trade_word(std::string_view text);

}  // namespace ringtrue
