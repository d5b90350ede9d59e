#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/model/netlist.hpp"
#include "ringtrue/model/readings.hpp"
#include "ringtrue/revise/difference.hpp"

namespace ringtrue {

/// A row of the drawing that the panel proves wrong, or one that the drawing lacks.
struct AsBuiltRow {
  std::string_view table;            ///< `conductors` or `parts`
  Place place;                       ///< as drawn; no line for a new row
  std::string name;                  ///< wire or part
  std::string sheet;                 ///< may be empty
  Change change = Change::changed;   ///< `changed`, `added` or `gone`
  std::vector<ChangedField> fields;  ///< drawn and as built, but for notes; those of a gone row as drawn
  std::size_t decision = 0;          ///< which of the sets of faults asks for it first
};

/// A drawing brought to what the panel is.
struct AsBuilt {
  Netlist netlist;
  std::vector<AsBuiltRow> rows;        ///< conductors in their order, parts in theirs, then the new ones
  std::vector<ReadingId> to_withdraw;  ///< those that the faults say are bad
  /// Readings that the changed drawing can't judge any more, though their points are there: what was lifted,
  /// operated or pulled for them has moved or is gone. They are to be taken again.
  std::vector<ReadingId> no_longer_judged;
};

/// Changes the rows of the drawing so that it says what the panel is if these faults are what is wrong.
///
/// Each set of faults is one that explains disagreements with the drawing of `graph`, as `diagnose` lists
/// them. The netlist, compared with the readings that aren't to be withdrawn, has no disagreement left that
/// these sets explain. Every point stays known: where the last row that names one goes or leaves it, a spare
/// core (a `core` row with one end) keeps it on the drawing, joined to nothing. A conductor that doesn't
/// conduct becomes such a core at the ends where it has to stay, for that or because readings lift it there;
/// else its row goes. A coil or resistor of a wrong value gets the one that the readings show, else none. The
/// notes of changed rows say what they were.
/// @errors bad_call, one per fault that no drawing can show: a terminal that doesn't conduct between its
///         sides, a clamp or contact with too much resistance, what the drawing has no row for, and an end
///         that two of the sets move to different places.
/// Cost: linear in the rows, and in the readings where a value is to be found.
[[nodiscard]] Result<AsBuilt> as_built(const ConductionGraph& graph,
                                       std::span<const std::vector<Fault>> decided, const Readings& readings,
                                       const Comparison& comparison);

}  // namespace ringtrue
