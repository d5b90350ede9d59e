#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/model/decisions.hpp"

namespace ringtrue {

/// What a finding is called in a job: its faults by the names of wires, parts and points, so that it stays
/// the same whatever else is read and however rows are ordered. `miswire wire 12 X1:5.int to X1:6.int`.
[[nodiscard]] std::string finding_name(std::span<const Fault> faults, const ConductionGraph& graph,
                                       const Readings& readings);

/// The faults are of, or land on or beside, what has a role: a stop, a guard, a protective circuit.
[[nodiscard]] bool touches_role(std::span<const Fault> faults, const ConductionGraph& graph);

/// A decision about one of today's findings.
struct DecidedFinding {
  std::size_t decision = 0;   ///< index into the rows of the decisions
  std::size_t cluster = 0;    ///< of the findings
  std::vector<Fault> faults;  ///< one of its diagnoses, or an equivalent of one
};

/// Which decisions still speak of a finding.
struct DecidedFindings {
  std::vector<DecidedFinding> open;  ///< by cluster, at most one of each: the last
  std::vector<std::size_t> gone;     ///< decisions about findings that are none any more, as indices
};

/// Looks up which of today's findings the standing decisions speak of. Cost: linear in the diagnoses.
[[nodiscard]] DecidedFindings decided_findings(const Decisions& decisions, const Findings& findings,
                                               const ConductionGraph& graph, const Readings& readings);

/// The decision about a cluster; null if there is none.
[[nodiscard]] const DecidedFinding* decided_of(std::span<const DecidedFinding> decided, std::size_t cluster);

}  // namespace ringtrue
