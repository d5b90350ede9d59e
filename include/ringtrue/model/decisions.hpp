#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/kinds.hpp"

namespace ringtrue {

/// What somebody decided about a finding.
struct Decision {
  std::string finding;   ///< its faults by names, see `finding_name`
  std::string readings;  ///< names of those that it explained then, `; ` between them
  std::string points;    ///< clamps that its repair opens, likewise
  DecisionKind decision = DecisionKind::repair;
  std::string text, time, by;
  std::string revision;  ///< which of the netlists of a job it was, counted from 1
  std::string id;
  std::uint32_t line = 0;
  /// A later revision opened a clamp of the finding, or calls something else by a name in it: the decision
  /// speaks of no finding any more. See `carry_over`.
  bool is_outdated = false;
};

/// Every decision that was ever made, oldest first.
struct Decisions {
  std::string file;
  std::vector<Decision> rows;
  std::vector<Note> notes;
};

/// A row as the files have it; see Decision.
struct DecisionRow {
  std::string_view finding, readings, points, decision, text, time, by, revision, id;
};

/// Turns a row into a decision.
/// @errors missing_field (also of an acceptance without a reason in `text`), unknown_kind, bad_time,
///         bad_number.
[[nodiscard]] Result<Decision> decision_from_row(const DecisionRow& row, std::uint32_t line,
                                                 std::string_view file);

/// The number of its netlist; nothing where it doesn't say.
[[nodiscard]] std::optional<std::size_t> revision_of(const Decision& decision);

/// What a text of `finding`, `readings` or `points` lists; refers to it.
[[nodiscard]] std::vector<std::string_view> listed(std::string_view text);

/// The last one of each finding, as indices into the rows, in their order. Of the same finding are those of
/// one name, and those that explain a reading in common.
[[nodiscard]] std::vector<std::size_t> last_decisions(const Decisions& decisions);

/// The same but for those withdrawn.
[[nodiscard]] std::vector<std::size_t> standing_decisions(const Decisions& decisions);

}  // namespace ringtrue
