#pragma once
#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

// Points stand in rows: same part, side and letters, consecutive numbers (`9`, `10` or `09`, `10`). A hand
// that miscounts lands in the same row.

/// A pin taken apart around its last run of digits: `12o` is "", 12, "o"; `0.3` is "0.", 3, "".
struct NumberedPin {
  std::string_view before, after;
  std::uint32_t number = 0;
};
[[nodiscard]] std::optional<NumberedPin> numbered(std::string_view pin);

[[nodiscard]] std::string_view part_name(const ConductionGraph& graph, PointId p);
[[nodiscard]] std::string_view pin_name(const ConductionGraph& graph, PointId p);

/// The point so many places further in the row; `none` where the row ends before.
[[nodiscard]] PointId point_beside(const ConductionGraph& graph, PointId p, int places);
/// By point of some of a part: the points one place before and after it in its row, else `none`.
void find_rows(const PointTable& points, std::span<const PointId> of_part,
               std::vector<std::array<PointId, 2>>& beside);

/// Places apart in one row; nothing where the two are in no common row (sides don't matter).
[[nodiscard]] std::optional<std::uint32_t> places_apart(const ConductionGraph& graph, PointId a, PointId b);

/// The point with the same pin on the module or relay whose number is so many greater: on `A2` for one on
/// `A1`; `none` if there is none, and for terminals.
[[nodiscard]] PointId on_part_beside(const ConductionGraph& graph, PointId p, int numbers);

}  // namespace ringtrue
