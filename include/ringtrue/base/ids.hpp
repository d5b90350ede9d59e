#pragma once
#include <cstdint>

namespace ringtrue {

// 32-bit indices with types of their own, so that a point is never passed for an element. The value `none` of
// each means "there is none".

/// A name on the drawing, `X1:5`; one with sides has two points.
enum class PlaceId : std::uint32_t { none = 0xFFFFFFFFu };
/// A place for one probe: a pin, or one side of a terminal. From `point_count()` of a graph on: loose ends.
enum class PointId : std::uint32_t { none = 0xFFFFFFFFu };
/// What joins two points in a ConductionGraph.
enum class ElementId : std::uint32_t { none = 0xFFFFFFFFu };
/// Points that copper joins; numbers hold for one graph or view alone.
enum class NetId : std::uint32_t { none = 0xFFFFFFFFu };
/// Index into `Readings::rows`.
enum class ReadingId : std::uint32_t { none = 0xFFFFFFFFu };

/// The plain index of an id, for the flat arrays.
template <class Id>
[[nodiscard]] constexpr std::uint32_t index(Id id) {
  return static_cast<std::uint32_t>(id);
}

}  // namespace ringtrue
