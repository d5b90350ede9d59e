#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// Where a probe can be put, in numbers.
struct Stop {
  PointId point = PointId::none;
  std::uint32_t rank = 0;    ///< among all stops: panel, door, field; then by part, row, number and side
  std::uint32_t part = 0;    ///< rank of the part
  std::uint32_t row = 0;     ///< same part and same letters of the pin
  std::uint32_t number = 0;  ///< in the row
  PartPlace place = PartPlace::panel;
  Side side = Side::single;
  double pin = 0;  ///< effort of putting a probe there, beyond that of a terminal
};

/// The stops of some readings, in an order in which one could walk by them. A netlist has no geometry: parts
/// of one place stand by their first sheet, then by their first point in the netlist.
class WalkStops {
 public:
  WalkStops(const ConductionGraph& graph, const std::vector<PlanCondition>& conditions,
            std::span<const PlannedReading> readings, const Efforts& efforts);

  /// A loose end lies at the clamp that it was lifted from.
  [[nodiscard]] Stop at(PointId p, const ConditionOverlay& made) const;

  /// Effort of moving a probe from the one to the other, without `pin`: nothing on one point; along a row
  /// half of `same_part` for the next number or the other side, and nearing all of it far away, so that one
  /// long step is always less than two short ones; `same_part` between rows of a part; `other_part`, and
  /// three times that between panel, door and field. The shapes and the three are estimates.
  [[nodiscard]] double apart(const Stop& a, const Stop& b) const;

 private:
  const ConductionGraph& graph_;
  Efforts efforts_;
  std::vector<std::uint32_t> rank_of_;  ///< by point
  std::vector<Stop> stops_;             ///< by rank
};

}  // namespace ringtrue
