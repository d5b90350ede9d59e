#pragma once
#include <string_view>

#include "ringtrue/graph/trace.hpp"

namespace ringtrue::report {

/// One word for a channel: `complete`, else the word of its first path that is not, else `shares-net`.
[[nodiscard]] std::string_view channel_verdict(const ChannelTrace& trace);

}  // namespace ringtrue::report
