#pragma once
#include <string>
#include <vector>

#include "ringtrue/report/drive_report.hpp"

namespace ringtrue::report {

struct StopStepWords {
  std::string act, expect;
};

/// Phrases of one stop circuit.
class StopWords {
 public:
  StopWords(const logic::StopCircuit& circuit, const ConductionGraph& graph)
      : circuit_(circuit), graph_(graph) {}

  /// `K9:S11 to K9:S12 by contact S1:11-12 (door, sheet 6.2), contact S20:11-12 (not connected, sheet 6.2)`
  [[nodiscard]] std::string loop(const logic::StopLoop& loop) const;
  /// Every point of the loop, in order, with sides.
  [[nodiscard]] std::string way(const logic::StopLoop& loop) const;
  [[nodiscard]] std::string reset() const;  ///< what it takes for the relay to come in
  [[nodiscard]] std::string moves() const;
  [[nodiscard]] std::string shown_by() const;
  [[nodiscard]] std::vector<std::string> box() const;  ///< what a box with real stop devices is wired to
  [[nodiscard]] std::string log_line() const;          ///< for ringtrue log; empty where nothing is missing
  [[nodiscard]] std::vector<StopStepWords> steps() const;

 private:
  [[nodiscard]] std::string contact(ElementId contact) const;
  [[nodiscard]] std::string channel_of(ElementId contact) const;  ///< `channel 2`
  [[nodiscard]] std::string followers() const;                    ///< `K10, K11`
  [[nodiscard]] std::string expect(const logic::StopStep& step) const;

  const logic::StopCircuit& circuit_;
  const ConductionGraph& graph_;
};

}  // namespace ringtrue::report
