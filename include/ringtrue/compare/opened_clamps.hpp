#pragma once
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue {

/// Clamps that somebody opened, and when, in seconds since 1970.
struct OpenedClamps {
  double time = 0;
  std::vector<PointId> points;
};

/// Those of repairs, and of temporary changes that no later row has undone. Both sides of a bare terminal.
/// @param unknown  gets an error for each clamp that the drawing lacks.
[[nodiscard]] std::vector<OpenedClamps> opened_clamps(const Events& events, const Netlist& netlist,
                                                      Errors& unknown);

}  // namespace ringtrue
