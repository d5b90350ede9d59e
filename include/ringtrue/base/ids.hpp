#pragma once
#include <cstdint>

namespace ringtrue {

/// 32-bit index with a type of its own, so that a point is never passed for an element.
/// The value `none` of each means "there is none".
enum class PlaceId : std::uint32_t { none = 0xFFFFFFFFu };
enum class PointId : std::uint32_t { none = 0xFFFFFFFFu };
enum class ElementId : std::uint32_t { none = 0xFFFFFFFFu };
enum class NetId : std::uint32_t { none = 0xFFFFFFFFu };
/// Index into `Readings::rows`.
enum class ReadingId : std::uint32_t { none = 0xFFFFFFFFu };

/// The plain index of an id, for the flat arrays.
template <class Id>
[[nodiscard]] constexpr std::uint32_t index(Id id) {
  return static_cast<std::uint32_t>(id);
}

}  // namespace ringtrue
