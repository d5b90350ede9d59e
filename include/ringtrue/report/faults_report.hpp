#pragma once
#include <string>
#include <vector>

#include "ringtrue/diagnose/possible_faults.hpp"
#include "ringtrue/report/detail.hpp"

namespace ringtrue {

/// The faults that explanations are made of. Holds references; all must outlive the call.
struct FaultsReport {
  const ConductionGraph& graph;
  const Readings& readings;
  Priors priors;                      ///< those in force
  FaultCounts counts{};               ///< for the text
  std::vector<PossibleFault> faults;  ///< for the JSON, and for the text with every detail
};

/// The faults for people: how many of each kind, what prices them, how they are counted, and with every
/// detail each on a line. Plain text, lines of about 100 characters; those of the list may be longer.
[[nodiscard]] std::string faults_text(const FaultsReport& report, Detail detail = Detail::short_lists);

/// The faults for programs, as netlists/schema/faults.schema.json describes them.
[[nodiscard]] std::string faults_json(const FaultsReport& report);

}  // namespace ringtrue
