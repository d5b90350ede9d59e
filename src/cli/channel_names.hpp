#pragma once
#include <string>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::cli {

/// The channels asked for by point, address or tag, each once and in the order asked.
/// @errors unknown_channel, for each name that none has.
[[nodiscard]] Result<std::vector<std::size_t>> chosen_channels(const Netlist& netlist,
                                                               const std::vector<std::string>& typed);

}  // namespace ringtrue::cli
