#pragma once
#include <optional>
#include <span>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/readings.hpp"

namespace ringtrue::revise {

/// What a coil or resistor of a wrong value has: the ohms that a disagreeing reading from its one end to its
/// other showed, if within the tolerance of its row every reading stays possible that the faults make
/// possible. Nothing if there is no such reading, and for a lamp, whose row states its hot filament.
[[nodiscard]] std::optional<Ohms> fitted_ohms(const Fault& wrong_value, std::span<const Fault> all_faults,
                                              const ConductionGraph& graph, const Readings& readings,
                                              const Comparison& comparison);

}  // namespace ringtrue::revise
