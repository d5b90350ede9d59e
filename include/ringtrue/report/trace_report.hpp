#pragma once
#include <span>
#include <string>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// Traced channels for people: each path element by element with wire numbers and sheets, or where it stops
/// and why.
[[nodiscard]] std::string trace_text(const ConductionGraph& graph, std::span<const ChannelTrace> traces);

/// Traced channels for programs, as netlists/schema/trace.schema.json describes them.
[[nodiscard]] std::string trace_json(const ConductionGraph& graph, std::span<const ChannelTrace> traces);

}  // namespace ringtrue
