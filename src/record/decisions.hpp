#pragma once
#include "record/sheets.hpp"
#include "ringtrue/diagnose/decided.hpp"

namespace ringtrue::record {

/// What was decided about findings, as the punch list says it.
class FindingDecisions {
 public:
  explicit FindingDecisions(const RecordSource& source);

  /// Says in the last row, which is the cluster's, what was decided about it.
  void mark(RecordSheet& punch, std::size_t cluster) const;
  /// A row for each decision about what is no finding any more. It claims a repair only where one of its
  /// clamps was opened later, a change of the drawing only where a later netlist is as built, and neither
  /// where one of its faults, or a reading that they explained, is of some finding still.
  [[nodiscard]] std::vector<Row> settled(std::size_t rows_before) const;

 private:
  [[nodiscard]] std::string_view how_settled(const Decision& decision) const;
  [[nodiscard]] bool is_found_still(const Decision& decision) const;
  /// A clamp of it was opened since it was decided.
  [[nodiscard]] bool is_repaired(const Decision& decision) const;

  const RecordSource& source_;
  const Decisions& decisions_;
  DecidedFindings decided_;
};

/// State of an accepted finding that touches a stop, a guard, a protective or an explosion-proof circuit: no
/// acceptance settles it.
inline constexpr std::string_view k_accepted_with_role = "accepted, with a safety role";

/// The punch list's item has to be settled before anybody signs.
[[nodiscard]] bool is_to_be_settled(std::string_view state);

}  // namespace ringtrue::record
