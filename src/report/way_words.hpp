#pragma once
#include <string>
#include <vector>

#include "ringtrue/expect/explain.hpp"
#include "text_layout.hpp"

namespace ringtrue::report {

/// A point of a way: `X1:5.int`; `504@A2:M` for the loose end of a lifted conductor.
[[nodiscard]] std::string point_name(const Way& way, std::size_t point, const ConductionGraph& graph);

/// A way as rows of a table, each with its value.
[[nodiscard]] std::vector<WalkRow> walk_of(const Way& way, const ConductionGraph& graph);

/// The loads of a way: `coil K1:A1-A2 (sheet 12.1: 160 Ω ± 10 %: 144 to 176 Ω) and lamp P1:x1-x2`.
[[nodiscard]] std::string loads_words(const Way& way, const ConductionGraph& graph);

/// The elements of a way that are not on another: `wires 501, 502; fuse X2:1`.
[[nodiscard]] std::string elements_aside(const Way& way, const Way& from, const ConductionGraph& graph);

/// `unplug K1, take out fuse X2:1 and lift wire 504 at A2:M`.
[[nodiscard]] std::string steps_words(const std::vector<std::string>& settings, const ConductionGraph& graph);

}  // namespace ringtrue::report
