#pragma once
#include <cstdint>
#include <memory>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"

namespace ringtrue {

/// A comparison and its diagnosis after some readings: a value, cheap to copy; a copy that goes its own way
/// pays for it then. For one thread at a time.
class DiagnosisState {
 public:
  /// All that were taken in, in the order in which they came.
  [[nodiscard]] const Readings& readings() const;
  [[nodiscard]] const Comparison& comparison() const;
  [[nodiscard]] const Findings& findings() const;

 private:
  friend Result<DiagnosisState> begin_diagnosis(const ConductionGraph&, Readings, Events, Meters,
                                                const MeterSettings&, const DiagnoseOptions&);
  friend Result<DiagnosisState> diagnose(DiagnosisState, const ReadingRow&, std::uint32_t line);
  class Impl;
  explicit DiagnosisState(std::shared_ptr<Impl> impl) : impl_(std::move(impl)) {}
  std::shared_ptr<Impl> impl_;
};

/// Compares and diagnoses the readings taken so far, which may be none. The graph must outlive the state.
/// @errors those of `compare`.
[[nodiscard]] Result<DiagnosisState> begin_diagnosis(const ConductionGraph& graph, Readings readings,
                                                     Events events = {}, Meters meters = {},
                                                     const MeterSettings& unnamed = {},
                                                     const DiagnoseOptions& options = {});

/// The state after one more reading. Findings and comparison are those that beginning anew with all readings
/// gives, in every byte, unless one of the two runs into a limit of sets tried where the other just doesn't;
/// what the work counts say is what was really done.
///
/// Cost: a reading that agrees, and refutes none of the explanations and links that stand, is judged alone
/// and proves what its net can prove; one that disagrees, or refutes some, explains the clusters it changes.
/// Everything is done anew under a condition that is new, where a reading of the same pair and condition
/// stands, and where events are later than the reading or its beep joins what may have to do with them.
/// @param line  of the file or job that it stands on; 0 for the one behind the last.
/// @errors those of a row of readings and of `compare`; the state is then lost, so keep a copy.
[[nodiscard]] Result<DiagnosisState> diagnose(DiagnosisState state, const ReadingRow& reading,
                                              std::uint32_t line = 0);

}  // namespace ringtrue
