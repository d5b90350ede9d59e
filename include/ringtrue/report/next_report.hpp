#pragma once
#include <span>
#include <string>

#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// Everything that a report on the next readings speaks of. Holds references only; all must outlive the call.
struct NextReport {
  const ConductionGraph& graph;
  const Readings& readings;
  const Findings& findings;
  std::span<const NextReading> next;  ///< by cluster
  DiagnoseOptions options;            ///< those used for `findings`
};

/// For people, a block per finding: where to read, under what condition, what each outcome would mean.
/// Plain text, lines of about 100 characters.
[[nodiscard]] std::string next_text(const NextReport& report, Detail detail = Detail::short_lists);

/// What the remedy of a finding stands behind: `Do`, or where its likeliest explanation is rather wrong than
/// right, `If so`: then it's the next reading that is to be done.
[[nodiscard]] std::string_view remedy_label(const Diagnosis& likeliest);

/// Where there is a reading to take:
/// `Next: read A1:0.0 to X1:4.int; a beep means wire 5 on X1:4.int (62%), none wire 5 open (38%)`.
[[nodiscard]] std::string next_in_short(const NextReading& next, const Cluster& cluster,
                                        const ConductionGraph& graph, const Readings& readings);

/// The points of a reading to take; as written before where it's one to take again.
struct NextPoints {
  std::string from, to;
};
[[nodiscard]] NextPoints points_of(const NextReading& next, const ConductionGraph& graph,
                                   const Readings& readings);

/// For programs, as netlists/schema/next.schema.json describes it.
[[nodiscard]] std::string next_json(const NextReport& report);

}  // namespace ringtrue
