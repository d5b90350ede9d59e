#pragma once
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// Counts a conductor that the list holds twice, in either direction, once, and notes it. A conductor is what
/// its id says if both rows have one, else its wire number, cable and core, and ends. Cost: linear.
void merge_repeated_conductors(Netlist& netlist);

}  // namespace ringtrue
