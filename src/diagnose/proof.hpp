#pragma once
#include <cstdint>
#include <vector>

#include "consistency.hpp"
#include "landing.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// By element: 1 if a current agreeing reading would have come out otherwise had the element been open, moved
/// or exchanged: it conducts, without it the probes are parted, and no load could have shown the same value.
/// Cost: linear in the graph and the readings; per condition the nets it touches. Room: little per point,
/// since the nets are looked at part by part.
[[nodiscard]] std::vector<std::uint8_t> proven_by_readings(const ConductionGraph& graph,
                                                           const Readings& readings,
                                                           const Comparison& comparison,
                                                           Threads threads = {});

/// Adds what the last reading proves to what was proven before it. The same as proving by all of them anew,
/// as long as no earlier reading changed its standing. Cost: the net of the reading and the readings on it.
void prove_by_last(const Consistency& consistency, const Readings& readings,
                   std::vector<std::uint8_t>& proven);

/// The channels' states from what is proven and found.
[[nodiscard]] std::vector<ChannelResult> channel_results(const ConductionGraph& graph,
                                                         const Readings& readings,
                                                         const Comparison& comparison,
                                                         const ChannelTracer& tracer,
                                                         const Findings& findings, Threads threads = {});

/// Elements that a diagnosis moves, opens or exchanges.
[[nodiscard]] std::vector<ElementId> elements_touched(const std::vector<Fault>& faults,
                                                      const ConductionGraph& graph);

}  // namespace ringtrue
