#pragma once
#include <string>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::cli {

/// The channels asked for, as indices into the channel list, each once and in the order asked.
/// @errors unknown_channel, one for each that isn't there.
[[nodiscard]] Result<std::vector<std::size_t>> chosen_channels(const Netlist& netlist,
                                                               const std::vector<std::string>& typed);

}  // namespace ringtrue::cli
