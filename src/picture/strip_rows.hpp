#pragma once
#include <string>
#include <vector>

#include "marks.hpp"
#include "ringtrue/picture/strips.hpp"

namespace ringtrue::picture {

/// What is landed on a clamp, or is found there.
struct Landing {
  ElementId element = ElementId::none;  ///< `none` for what a diagnosis has here and the drawing has not
  std::string what;                     ///< `wire 5`, `bridge to X8:12`, `wire 5 lands here`
  std::string far;                      ///< the point at the other end; empty of a bridge in a lane
  std::string said;                     ///< all of it read aloud
  Marked marked;
};

/// A bridge between two terminals of the strip on one side.
struct Bridge {
  std::size_t upper = 0, lower = 0;  ///< rows
  std::size_t lane = 0;              ///< from the terminals outwards
  Landing landing;                   ///< on the upper one
};

/// One side of the strip.
struct StripSide {
  std::vector<std::vector<Landing>> landings;  ///< by row, but for bridges
  std::vector<Bridge> bridges;                 ///< by upper row
  std::size_t lanes = 0;
};

struct StripRow {
  ElementId body = ElementId::none;
  std::string number;  ///< of the terminal
  std::string said;
  Marked marked;
};

struct StripRows {
  std::vector<StripRow> rows;
  StripSide internal, external;
};

[[nodiscard]] StripRows rows_of(const TerminalStrip& strip, const ConductionGraph& graph, const Marks& marks);

}  // namespace ringtrue::picture
