#pragma once
#include <string>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/picture/strips.hpp"

namespace ringtrue {

/// In px; narrower, names would not fit beside the symbols.
inline constexpr int k_least_strip_width = 640;

/// What `strip_picture` draws.
struct StripPicture {
  const ConductionGraph& graph;
  const TerminalStrip& strip;
  const Findings* findings = nullptr;  ///< null: nothing was read yet, and nothing is marked
  int width = 1000;                    ///< px; at least `k_least_strip_width`, more where bridges need it
  int most_height = 0;                 ///< px; a strip that takes more is cut into several; 0: it never is
};

/// A terminal strip as SVG 1.1: a row for each terminal with its number and symbol in the middle, what is
/// landed on its panel side on the left and on its field side on the right.
///
/// A landing says the conductor's number and where its other end is. Several at one clamp stand below each
/// other. A bridge between two terminals on one side is a line in a lane of its own beside them, named at the
/// upper one. With findings each landing, bridge and terminal has the word, sign and line of its mark, as in
/// `path_picture`, or is `absent` where it leads to a field device that isn't there in the shop; and where a
/// likeliest diagnosis has a conductor land, or two points joined, that stands at the clamp where it is to be
/// found.
///
/// Names that take more than a few lines are cut at an ellipsis, the whole stands in the title. Otherwise as
/// `path_picture`. One picture, or several in order where `most_height` asks for it: a terminal with more
/// landings than that holds goes on in the next. Cost: linear in the
/// strip and findings, but for sorting.
[[nodiscard]] std::vector<std::string> strip_pictures(const StripPicture& what);

}  // namespace ringtrue
