#pragma once
#include <optional>
#include <utility>
#include <vector>

#include "explaining.hpp"
#include "proof.hpp"
#include "ringtrue/graph/trace.hpp"
#include "workplace.hpp"

namespace ringtrue {

/// Diagnoses a comparison, and again after each reading that is appended to it, with what can be kept.
class Engine {
 public:
  /// The arguments must outlive the engine.
  Engine(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
         const DiagnoseOptions& options);

  void run();
  /// The same without keeping anything, so that nothing is there twice.
  [[nodiscard]] Findings run_once() &&;
  /// Takes in the last reading, of a pair that wasn't read before under its condition, and under a condition
  /// that was there before.
  void add_last();
  [[nodiscard]] const Findings& findings() const { return findings_; }

 private:
  void explain_and_prove();
  void finish(std::vector<Cluster> clusters, std::vector<std::uint8_t> proven);

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  DiagnoseOptions options_;
  Workplace own_;
  Explaining explaining_;
  std::optional<ChannelTracer> tracer_;  ///< if there are channels
  std::vector<std::uint8_t> proven_;     ///< by element, before what is suspect is withdrawn
  Findings findings_;
};

}  // namespace ringtrue
