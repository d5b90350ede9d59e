#pragma once
#include <optional>

#include "ringtrue/base/error.hpp"
#include "ringtrue/compare/compare.hpp"

namespace ringtrue {

/// Marks readings that no longer count: stale ones, which a later event has touched, and unstable ones, which
/// contradict another current reading of the same pair and condition.
///
/// A beep is stale if a clamp that was opened is on an element that every path between its probes uses; a
/// reading in ohms if the clamp is where its current may flow: on the probes' net, or, where only loads join
/// them, on any net that loads join to them; an open or OL reading, and a beep that the drawing has no path
/// for, if the clamp is on the net of either probe, as drawn or as found (nets that a beep showed to be
/// joined count as one). Readings without a time count as taken before every event. Over a diode the same
/// points with the leads exchanged are another pair.
/// Clamps that the drawing lacks are listed and passed over: an event is never mended, and a revision may
/// drop them.
void mark_stale_and_unstable(const ConductionGraph& graph, const Readings& readings, const Events& events,
                             Comparison& made);

/// Whether a reading at a time (seconds; nothing if it has none) neither is made stale by the events nor has
/// part in what they make stale: it is later than all of them, and its beep joins no nets that its condition,
/// seen by `view`, keeps apart.
[[nodiscard]] bool is_past_events(const Events& events, std::optional<double> time, const Probing& probing,
                                  const View& view);

}  // namespace ringtrue
