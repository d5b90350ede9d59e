#pragma once
#include <span>
#include <string>
#include <string_view>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "ringtrue/report/detail.hpp"

// What is said to somebody with a probe in each hand: short texts, none a whole report.

namespace ringtrue {

/// `S1 operated; A0, A1, A2 and 13 more unplugged`: objects in the same state together. Empty at rest.
[[nodiscard]] std::string condition_words(std::string_view condition, Detail detail);

/// What has to be done for a condition and undone afterwards: `lift conductor 12 at X1:5.int; unplug K1`.
/// Empty at rest.
[[nodiscard]] std::string to_be_done(std::string_view condition, Detail detail);

/// What to look for at the point: `door, wires 214, 215, sheets 3.2, 4.1`. Empty where the drawing says
/// nothing, and for a loose end.
[[nodiscard]] std::string point_place(PointId point, const ConductionGraph& graph, Detail detail);

/// `wires 501, 502; fuse X2:2 and 4 more`: alike ones together, about `limit` of them (one more is named
/// rather than counted).
[[nodiscard]] std::string list_of(std::span<const ElementId> elements, const ConductionGraph& graph,
                                  std::size_t limit);

/// `0.1 to 3 Ω`, `up to 3 Ω`, `50 Ω or more`, `any resistance`, `open`.
[[nodiscard]] std::string range_text(OhmInterval ohms);

/// `drawn a beep`, `drawn 7.67 to 115 Ω`: what a reading of this kind would have shown, as drawn.
[[nodiscard]] std::string drawn_words(const ConductionGraph& graph, const Readings& readings,
                                      const Comparison& comparison, ReadingId reading);

/// `read open, drawn a beep`, for a reading whose points the drawing has.
[[nodiscard]] std::string read_and_drawn(const ConductionGraph& graph, const Readings& readings,
                                         const Comparison& comparison, ReadingId reading);

/// `R15: S1:13 to A1:0.1, S1 operated: read open, drawn a beep`.
[[nodiscard]] std::string reading_line(const ConductionGraph& graph, const Readings& readings,
                                       const Comparison& comparison, ReadingId reading);

/// The text as lines of about 100 characters, broken at blanks: the first begins at column `indent`, further
/// ones at `hanging`.
[[nodiscard]] std::string in_lines(std::string_view text, std::size_t indent, std::size_t hanging);

}  // namespace ringtrue
