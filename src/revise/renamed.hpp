#pragma once
#include <functional>

#include "ringtrue/model/readings.hpp"
#include "ringtrue/revise/difference.hpp"

namespace ringtrue {

/// The readings with the lifted ends of renumbered conductors, `12@X1:5.int`, under their new numbers, and
/// renamed parts under their new names: in conditions, and where they are points. Final, see Readings.
/// @param of  which rows; the others stay as they are.
[[nodiscard]] Readings renamed_readings(const Readings& readings, const ConductionGraph& before,
                                        const ConductionGraph& after, const Difference& difference,
                                        const std::function<bool(std::uint32_t)>& of);

/// The same of an event's points.
void rename_points(Event& event, const ConductionGraph& before, const ConductionGraph& after,
                   const Difference& difference);

}  // namespace ringtrue
