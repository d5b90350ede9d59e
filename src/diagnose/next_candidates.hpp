#pragma once
#include <set>
#include <span>
#include <string>
#include <tuple>
#include <utility>
#include <vector>

#include "next_points.hpp"
#include "prediction.hpp"
#include "remedies.hpp"
#include "remedy_weights.hpp"

namespace ringtrue {

/// A reading that was tried on the diagnoses.
struct TriedReading {
  CandidateReading candidate;
  Separator test;
  std::vector<OhmInterval> ranges;  ///< by outcome, for one in ohms
};

/// Gathers the readings that may tell diagnoses apart, in rising order of what they ask for: with the buzzer,
/// then in ohms, then with one thing more opened, each only for what is not parted for certain so far.
///
/// Pairs of points are first compared by nets alone, which costs nothing; only the most telling of those that
/// diagnoses join differently are judged.
class CandidateReadings {
 public:
  /// The diagnoses are those of `prediction`.
  CandidateReadings(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                    std::span<const Diagnosis> diagnoses, std::span<const Hypothesis> hypotheses,
                    Prediction& prediction, const NextOptions& options);

  [[nodiscard]] std::vector<TriedReading> gather();

 private:
  struct Pair {
    std::size_t one, other;  ///< diagnoses
  };
  void look_at_diagnoses();
  void add_again();
  void add_own_pairs_of(const std::vector<Pair>& pairs, std::uint32_t first_setup);
  void add_own_pairs(std::size_t diagnosis, std::uint32_t setup, bool in_ohms);
  void add_parted_by_nets(std::uint32_t first_setup);
  void add_in_ohms();
  void add_with_one_opened();
  [[nodiscard]] std::vector<Pair> not_parted() const;
  [[nodiscard]] bool is_parted(const Pair& pair) const;
  [[nodiscard]] bool differ_in_values(const Pair& pair) const;
  [[nodiscard]] std::vector<std::string> openers(const std::vector<Pair>& pairs);
  void add_elements_between(const Pair& pair, std::set<ElementId>& elements);
  void add_loads_that_decide(const Pair& pair, std::set<ElementId>& elements);
  [[nodiscard]] bool is_between_new_nets(const CandidateReading& candidate);
  void add(const CandidateReading& candidate);
  [[nodiscard]] bool is_full() const { return tried_.size() >= options_.max_readings; }

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::span<const Diagnosis> diagnoses_;
  std::span<const Hypothesis> hypotheses_;
  InformationOf information_of_;
  Prediction& prediction_;
  const NextOptions& options_;
  std::vector<std::vector<PointId>> own_points_;  ///< by diagnosis
  std::vector<PointId> points_;                   ///< all of them
  std::vector<ElementId> touched_;
  std::vector<TriedReading> tried_;
  std::set<std::tuple<std::uint32_t, std::uint32_t, std::uint32_t>> between_;  ///< setup, rows of nets
};

}  // namespace ringtrue
