#pragma once
#include <vector>

#include "marks.hpp"
#include "page.hpp"
#include "ringtrue/report/path_words.hpp"

namespace ringtrue::picture {

/// What stands at a point, an element or the gap.
struct Label {
  std::string said;  ///< all of it read aloud: `wire 5, sheet 1.4, proven`
  Lines lines;       ///< names and sheet
  Mark mark = Mark::none;
  Lines mark_lines;  ///< the mark's word and its reason; none without a mark
};

/// What one lane shows: points with an element, or the gap, between each two of them.
struct Lane {
  struct Stop {
    PointId point = PointId::none;  ///< `none` for the far side of a gap whose target isn't known
    Label label;
  };
  struct Step {
    ElementId element = ElementId::none;  ///< `none` for the gap
    Label label;
  };
  PathRole role;
  std::string verdict;
  std::vector<Stop> stops;  ///< one more than steps
  std::vector<Step> steps;
  std::vector<std::string> notes;  ///< below the strip: where it stops, what lies beyond
};

inline constexpr int k_text_gap = 12;  ///< px between texts side by side, at least

/// The lane of a path, its labels wrapped to `cell` px. The path must be stated.
[[nodiscard]] Lane lane_of(PathRole role, const TracedPath& path, const ConductionGraph& graph,
                           const Marks& marks, int cell);

/// The lane read aloud, in one or more sentences.
[[nodiscard]] std::string spoken(const Lane& lane);

}  // namespace ringtrue::picture
