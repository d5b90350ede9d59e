#pragma once
#include <string>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

/// In px; narrower, names would not fit beside the symbols.
inline constexpr int k_least_picture_width = 480;

/// What `path_picture` draws.
struct PathPicture {
  const ConductionGraph& graph;
  const ChannelTrace& trace;
  const Findings* findings = nullptr;  ///< null: nothing was read yet, and nothing is marked
  int width = 960;                     ///< px, what is wider wraps; at least `k_least_picture_width`
};

/// The path of a channel as SVG 1.1: a lane each for signal, return and common, as far as the drawing states
/// them, drawn left to right from point to point.
///
/// Each element stands there once, in the order of the trace, with its noun, name and sheet, an open contact
/// open. Where a path stops, a gap follows with the target's side beyond it. With findings each element says
/// by word, mark and line what is known of it, and its group has that word as its class: `faulty` in a
/// likeliest diagnosis of a finding, `proven` by a reading, `suspect` in another diagnosis, else `unproven`.
/// A point on which a likeliest diagnosis lands or joins something is `faulty` too.
///
/// Only presentation attributes and `currentColor`: reads in print without any CSS, and a page may colour it
/// by class. The title and description say the path in words. Names are cut nowhere and never overlap in
/// fonts up to the width of DejaVu Sans Bold; bytes that are no UTF-8 and characters that XML lacks become
/// U+FFFD. Symbols are in the manner of IEC 60617 (from memory), simplified. Cost: linear in path and
/// findings.
[[nodiscard]] std::string path_picture(const PathPicture& what);

}  // namespace ringtrue
