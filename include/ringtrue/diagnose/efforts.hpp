#pragma once
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/condition.hpp"

namespace ringtrue {

/// What it takes to take a reading; only ratios count. No measured times are published that we know of: all
/// are estimates.
struct Efforts {
  double reading = 1;       ///< two probes on neighbouring points, and a look at the meter
  double value = 0.25;      ///< a value in ohms has to settle and be written down
  double same_part = 0.25;  ///< the probes are some points apart on one part
  double other_part = 1;    ///< the probes are on different parts
  double pin = 0.1;         ///< per probe on a device's pin, which is harder to reach than a terminal
  double operate = 3;       ///< something held operated, or turned to a position
  double switch_over = 3;   ///< a breaker or isolator
  double take_out = 4;      ///< a fuse, or the link of a disconnect terminal
  double unplug = 5;        ///< a part pulled from its socket, or a connector
  double lift = 10;         ///< a conductor out of its clamp, and in again
  double lead = 4;          ///< a temporary lead fitted
  double field = 20;        ///< the field cables connected
};

/// What it takes to bring a condition about from rest, and to undo it.
[[nodiscard]] double effort_of(const Condition& condition, const Efforts& efforts);

/// What a probe on that point adds: `pin` on a device's pin and on a loose end, nothing on a terminal.
[[nodiscard]] double effort_of_pin(PointId p, const ConductionGraph& graph, const Efforts& efforts);

}  // namespace ringtrue
