#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// Which of a channel's three paths; it decides how ends are called.
enum class PathRole : std::uint8_t { signal, way_back, common };
[[nodiscard]] std::string_view word(PathRole role);  ///< `signal`, `return`, `common`

/// `complete, A1:0.0 to field terminal X1:4.ext`, `stops before +24V at G1:+`: how a path ends, in one
/// phrase.
[[nodiscard]] std::string path_words(PathRole role, const TracedPath& path, const ConductionGraph& graph);

/// Where a path stops, in up to two phrases: from which points nothing leads on, and what lies beyond the
/// gap. None for a path that doesn't stop.
[[nodiscard]] std::vector<std::string> stop_words(const TracedPath& path, const ConductionGraph& graph);

/// A phrase for each channel that shares its net with this one.
[[nodiscard]] std::vector<std::string> shared_net_words(const ChannelTrace& trace,
                                                        const ConductionGraph& graph);

}  // namespace ringtrue
