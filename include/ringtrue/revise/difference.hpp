#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// What became of a conductor, or of a row of parts, in another revision.
enum class Change : std::uint8_t {
  same,        ///< between the same points, by the same number
  renumbered,  ///< between the same points, by another number; never of a part
  completed,   ///< the same, with a colour, size or length that was left open before; never of a part
  moved,       ///< by the same number, with an end at another point; never of a part
  changed,     ///< where it was, but of another kind, size, length, colour or value: it has to be exchanged
  added,
  gone,
};
[[nodiscard]] std::string_view word(Change change);  ///< `same`, ..., `new` for `added`, `gone`

/// A part that goes by another designation and is the same for all that.
struct RenamedPart {
  std::string before, after;
};

/// A field of a row that says something else in the later revision; empty where it says nothing.
struct ChangedField {
  std::string_view name;  ///< as the files call it
  std::string before, after;
};

/// A channel or a potential that isn't the same; points and parts by their later names.
struct ChangedListing {
  Change change = Change::changed;  ///< `changed`, `added` or `gone`; a channel of another point is `moved`
  std::string name;                 ///< the channel's point, the potential's name; the later one if there is
  std::vector<ChangedField> fields;
};

/// A row that is not the same in both.
struct ChangedRow {
  Change change = Change::same;
  ElementId before = ElementId::none;  ///< `none` if new
  ElementId after = ElementId::none;   ///< `none` if gone
};

/// Two revisions of a netlist, put side by side by what joins what; the order of rows plays no part.
struct Difference {
  std::vector<ChangedRow> conductors, parts;  ///< all but `same`: by `before`, then the new ones by `after`
  std::size_t same_conductors = 0, same_parts = 0;
  std::vector<RenamedPart> renamed;  ///< by `before`; their rows are `same`, and so are conductors to them

  /// By the channel list and the list of potentials: those that say something else.
  std::vector<ChangedListing> channels, potentials;

  /// By element before: the same (or renumbered) one after; `none` where it is no longer the same.
  std::vector<ElementId> element_after;
  /// By point before: the point of that name, or of the renamed part, after; `none` where there is none.
  std::vector<PointId> point_after;
  /// By point: a conductor there is new, gone, moved or changed, or the part is: its clamp has to be opened.
  std::vector<std::uint8_t> touched_before, touched_after;

  /// Nothing but names, numbers and channels' rows differs.
  [[nodiscard]] bool is_electrically_same() const;
};

/// Compares two netlists by electrical meaning.
///
/// A part that is gone and a new one are the same, renamed, if they have the same rows and the same landings
/// and no other pair would do. Conductors are then put together by their ends: whatever joins the same points
/// is the same one, renumbered where its number differs, completed where it was left open how it is made. Of
/// what is left, the same number with a common end (or the same id) is a moved one. A part that is of another
/// kind or value is exchanged as a whole, which opens every clamp on it. Cost: n log n in the rows.
[[nodiscard]] Difference difference(const ConductionGraph& before, const ConductionGraph& after);

}  // namespace ringtrue
