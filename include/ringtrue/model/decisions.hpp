#pragma once
#include <cstddef>
#include <cstdint>
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
};

/// Every decision that was ever made, oldest first.
struct Decisions {
  std::string file;
  std::vector<Decision> rows;
  std::vector<Note> notes;
};

struct DecisionRow {
  std::string_view finding, readings, points, decision, text, time, by, revision, id;
};

/// Turns a row into a decision.
/// @errors missing_field (also of an acceptance without a reason in `text`), unknown_kind, bad_time,
///         bad_number.
[[nodiscard]] Result<Decision> decision_from_row(const DecisionRow& row, std::uint32_t line,
                                                 std::string_view file);

/// The last one of each finding, but for those withdrawn, as indices into the rows, in their order.
[[nodiscard]] std::vector<std::size_t> standing_decisions(const Decisions& decisions);

}  // namespace ringtrue
