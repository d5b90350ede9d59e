#pragma once
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/report/panel_words.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue::report {

using ringtrue::is_absent_field;
using ringtrue::list_of;

/// The row of the drawing that an element stands in; nothing for what the graph adds by itself.
[[nodiscard]] std::optional<RowSource> row_of(ElementId element, const ConductionGraph& graph);

/// `conductors.csv:12`, with the path as the netlist was named; empty where no row stands behind the element.
[[nodiscard]] std::string row_place(ElementId element, const ConductionGraph& graph);

/// The row of `parts` behind an element (a terminal's body and its foot on the PE rail share one), else null.
[[nodiscard]] const Part* part_of(ElementId element, const ConductionGraph& graph);

/// ` (sheet 1.3)`, ` (sheets 1.4, 2.4)`, or nothing where the drawing names no sheet.
[[nodiscard]] std::string in_sheets(std::initializer_list<ElementId> elements, const ConductionGraph& graph);

/// The other row of a changeover contact: same part, opposite kind, a pin in common.
[[nodiscard]] std::optional<ElementId> changeover_partner(ElementId element, const ConductionGraph& graph);

}  // namespace ringtrue::report
