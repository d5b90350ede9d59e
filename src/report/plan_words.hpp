#pragma once
#include <initializer_list>
#include <span>
#include <string>
#include <vector>

#include "ringtrue/plan/plan.hpp"

namespace ringtrue::report {

/// `P3`: the third reading of a plan.
[[nodiscard]] std::string planned_id(std::size_t number);

/// `beep`, `no beep`, `144 to 176 Ω`: what must show.
[[nodiscard]] std::string must_show(const PlannedReading& reading);

/// The same in ASCII and for a cell: `beep`, `open`, `144 to 176 ohm`.
[[nodiscard]] std::string must_show_in_cell(const PlannedReading& reading);

/// `door S1:13; sheets 1.3, 2.4`: which of the points are not in the panel, and the sheets. Empty where the
/// drawing says nothing.
[[nodiscard]] std::string place_words(std::initializer_list<PointId> points, const PlanCondition& condition,
                                      const ConductionGraph& graph);

/// The sheets on which something at one of the points is drawn, each once.
[[nodiscard]] std::vector<std::string> sheets_of(std::initializer_list<PointId> points,
                                                 const PlanCondition& condition,
                                                 const ConductionGraph& graph);

/// Elements that are not covered for the same reason, so that one sentence says it.
struct AlikeNotCovered {
  std::vector<ElementId> elements;
  WhyNotCovered why = WhyNotCovered::parallel;
  std::vector<ElementId> witness;  ///< empty where `each_other`
  bool each_other = false;         ///< the elements and the witness of each are the same lot: a ring
};
/// In the order of their first elements.
[[nodiscard]] std::vector<AlikeNotCovered> alike_together(std::span<const NotCovered> not_covered);

/// `a break is hidden by wires 5, 6`: why none of the elements is covered.
[[nodiscard]] std::string reason_words(const AlikeNotCovered& alike, const ConductionGraph& graph,
                                       std::size_t limit);

/// `1 to 3, 5`: numbers that rise, consecutive ones together.
[[nodiscard]] std::string number_ranges(std::span<const std::size_t> numbers);

/// A bundle's clip by test, from the first: `ABA`.
[[nodiscard]] std::string clips_of(std::uint32_t code, std::uint32_t tests);

}  // namespace ringtrue::report
