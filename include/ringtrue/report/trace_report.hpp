#pragma once
#include <functional>
#include <span>
#include <string>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"
#include "ringtrue/report/text_sink.hpp"

namespace ringtrue {

/// Shows its visitor the traces to report, one after the other; ChannelTracer does so without holding them
/// all.
using TraceSource = std::function<void(const ChannelTracer::Visit&)>;

/// Traced channels for people: each path element by element with wire numbers and sheets, or where it stops
/// and why. `count` is how many the source has.
void trace_text(const ConductionGraph& graph, std::size_t count, const TraceSource& traces,
                const TextSink& sink);
[[nodiscard]] std::string trace_text(const ConductionGraph& graph, std::span<const ChannelTrace> traces);

/// Traced channels for programs, as netlists/schema/trace.schema.json describes them.
void trace_json(const ConductionGraph& graph, const TraceSource& traces, const TextSink& sink);
[[nodiscard]] std::string trace_json(const ConductionGraph& graph, std::span<const ChannelTrace> traces);

}  // namespace ringtrue
