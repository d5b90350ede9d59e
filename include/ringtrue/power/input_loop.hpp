#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// What a segment of a loop is.
enum class SegmentKind : std::uint8_t {
  element,  ///< of the drawing: a wire, a terminal, a fuse
  device,   ///< the contact, sensor, transmitter or jumper that is to drive the input
  module,   ///< the input itself, from its point to its common
};
[[nodiscard]] std::string_view word(SegmentKind kind);  ///< `element`, `device`, `module`

/// What lies between two points of a loop that a probe can be put to.
struct LoopSegment {
  SegmentKind kind = SegmentKind::element;
  ElementId element = ElementId::none;  ///< of an element, or of a device that is a contact in panel or door
  PointId from = PointId::none, to = PointId::none;
};

/// The way of the current that drives an input, from the plus of its supply to the minus.
struct InputLoop {
  std::size_t channel = 0;
  std::vector<LoopSegment> segments;  ///< each begins where the one before ends
  double volts = 0;                   ///< of the supply
  [[nodiscard]] PointId plus() const { return segments.front().from; }
  [[nodiscard]] PointId minus() const { return segments.back().to; }
  /// Of the segment that begins at the point; the number of segments if none does.
  [[nodiscard]] std::size_t segment_from(PointId point) const;
};

/// @errors bad_call, with the reason and what to use instead, where the channel is an output, feeds its loop
///         itself, or the drawing gives it no whole loop between the plus and the minus of one DC supply.
[[nodiscard]] Result<InputLoop> input_loop(const ConductionGraph& graph, std::size_t channel);

/// The contacts of the loop that are open at rest must conduct before anything passes: what a condition says
/// of them, with the power, `power=on;S2=operated`.
[[nodiscard]] std::string driving_conditions(const InputLoop& loop, const ConductionGraph& graph);

}  // namespace ringtrue
