#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

enum class SegmentKind : std::uint8_t {
  element,  ///< of the drawing: a wire, a terminal, a fuse
  device,   ///< the contact, sensor or jumper that is to light the input
  module,   ///< the input itself, from its point to its common
};
[[nodiscard]] std::string_view word(SegmentKind kind);  ///< `element`, `device`, `module`

/// What lies between two points of a loop that a probe can be put to.
struct LoopSegment {
  SegmentKind kind = SegmentKind::element;
  ElementId element = ElementId::none;  ///< only of an element
  PointId from = PointId::none, to = PointId::none;
};

/// The way of the current that lights an input, from the plus of its supply to the minus.
struct InputLoop {
  std::vector<LoopSegment> segments;  ///< each begins where the one before ends
  double volts = 0;                   ///< of the supply
  [[nodiscard]] PointId plus() const { return segments.front().from; }
  [[nodiscard]] PointId minus() const { return segments.back().to; }
};

/// @errors bad_call, with the reason, where the channel is no DI or the drawing gives it no whole loop
/// between
///         the plus and the minus of one DC supply.
[[nodiscard]] Result<InputLoop> input_loop(const ConductionGraph& graph, std::size_t channel);

/// Measured from a point of the loop to the minus of its supply, with the input driven and dark.
struct LoopVolts {
  PointId point = PointId::none;
  double volts = 0;
};

struct Located {
  bool is_supply_shown = false;       ///< its plus has shown voltage
  bool is_supply_missing = false;     ///< ... or has shown none
  bool is_contradictory = false;      ///< no single break gives these voltages
  std::vector<std::size_t> suspects;  ///< segments of which one is broken, if a single one is
  std::optional<PointId> next;        ///< where to measure next; nothing once a single one is left
  std::size_t further = 0;            ///< voltages that are needed at most from here, the next one included
  std::vector<PointId> unclear;       ///< whose voltage is neither that of plus nor that of minus
};

/// Narrows a single break in the loop. Before it a point has the voltage of plus, behind it that of minus:
/// each value halves the suspects by their number, so that ⌈log2 n⌉ name one of n once the supply has shown
/// its own. `is_proven`: by element, those that continuity readings prove.
[[nodiscard]] Located locate(const InputLoop& loop, std::span<const LoopVolts> measured,
                             const std::vector<std::uint8_t>& is_proven);

}  // namespace ringtrue
