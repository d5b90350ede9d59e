#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"

namespace ringtrue {

/// By diagnosis a number, equal where they call for the same work, so that nobody at the panel need tell them
/// apart: an open and a bad joint of one conductor; a wire found, or two nets joined, on one side of a
/// terminal or on the other.
[[nodiscard]] std::vector<std::uint32_t> remedies_of(std::span<const Diagnosis> diagnoses,
                                                     const ConductionGraph& graph);

}  // namespace ringtrue
