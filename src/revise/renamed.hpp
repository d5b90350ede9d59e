#pragma once
#include "ringtrue/model/readings.hpp"
#include "ringtrue/revise/difference.hpp"

namespace ringtrue {

/// The readings with the lifted ends of renumbered conductors, `12@X1:5.int`, under their new numbers: in
/// conditions, and where they are points. Final, see Readings.
[[nodiscard]] Readings renamed_readings(const Readings& readings, const ConductionGraph& before,
                                        const ConductionGraph& after, const Difference& difference);

}  // namespace ringtrue
