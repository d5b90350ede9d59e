#pragma once
#include <cstdint>
#include <vector>

#include "consistency.hpp"
#include "landing.hpp"
#include "ringtrue/diagnose/diagnose.hpp"

namespace ringtrue {

/// By element: 1 if a current agreeing reading would have come out otherwise had the element been open, moved
/// or exchanged: it conducts, without it the probes are parted, and no load could have shown the same value.
/// Cost: linear in the graph and the readings; per condition the nets it touches.
[[nodiscard]] std::vector<std::uint8_t> proven_by_readings(const ConductionGraph& graph,
                                                           const Readings& readings,
                                                           const Comparison& comparison);

/// The channels' states from what is proven and found.
[[nodiscard]] std::vector<ChannelResult> channel_results(const ConductionGraph& graph,
                                                         const Readings& readings,
                                                         const Comparison& comparison, const Landing& landing,
                                                         const Findings& findings);

/// Elements that a diagnosis moves, opens or exchanges.
[[nodiscard]] std::vector<ElementId> elements_touched(const std::vector<Fault>& faults);

}  // namespace ringtrue
