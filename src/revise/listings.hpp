#pragma once
#include <vector>

#include "ringtrue/revise/difference.hpp"

namespace ringtrue {

/// By the channel list: channels are the same by their point, else by their address, else by their tag.
[[nodiscard]] std::vector<ChangedListing> changed_channels(const ConductionGraph& before,
                                                           const ConductionGraph& after,
                                                           const Difference& difference);
/// Potentials are the same by their name.
[[nodiscard]] std::vector<ChangedListing> changed_potentials(const ConductionGraph& before,
                                                             const ConductionGraph& after,
                                                             const Difference& difference);

}  // namespace ringtrue
