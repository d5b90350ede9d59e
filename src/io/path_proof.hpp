#pragma once
#include "ringtrue/io/jumper_verdict.hpp"

namespace ringtrue::io {

/// Fills in what is to be read to prove the elements of a hold, which lie on the paths of the channel: a path
/// is read from end to end, or as far as it leads.
void say_what_to_read(const ConductionGraph& graph, const ChannelTrace& trace, WhyJumper& not_proven);

}  // namespace ringtrue::io
