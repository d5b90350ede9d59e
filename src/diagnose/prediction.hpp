#pragma once
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "separation.hpp"
#include "setups.hpp"

namespace ringtrue {

/// A reading that might be taken.
struct CandidateReading {
  PointId from = PointId::none, to = PointId::none;
  std::uint32_t setup = 0;
  bool in_ohms = false;
  ReadingId again = ReadingId::none;  ///< taken before, with its points and condition
};

/// Outcomes of a reading by the buzzer.
inline constexpr Outcomes k_beep = 1, k_silent = 2;

/// The current readings by the net at rest of their red lead; made when first asked for.
class ReadingsByNet {
 public:
  ReadingsByNet(const ConductionGraph& graph, const Comparison& comparison)
      : graph_(graph), comparison_(comparison) {}
  [[nodiscard]] std::span<const ReadingId> of(NetId net) const;

 private:
  void make() const;

  const ConductionGraph& graph_;
  const Comparison& comparison_;
  mutable std::once_flag is_made_;
  mutable std::vector<std::uint32_t> start_;  ///< by net, in `readings_`
  mutable std::vector<ReadingId> readings_;
};

/// What a meter shows under each of some diagnoses.
///
/// The views of the diagnoses under a setup are made when first asked for. For one thread.
class Prediction {
 public:
  /// `besides`: faults that hold under each diagnosis, those of other clusters.
  Prediction(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
             std::span<const Diagnosis> diagnoses, std::vector<std::vector<Fault>> besides,
             const Cluster& cluster, const ReadingsByNet& taken);
  ~Prediction();

  /// The setups to which candidates refer; more may be added at the end.
  std::vector<Setup> setups;
  /// Points whose nets at rest hold the readings that may have decided what a load leaves open.
  void look_near(std::span<const PointId> points);

  /// Faults of other clusters that hold under a diagnosis.
  [[nodiscard]] std::span<const Fault> besides(std::size_t diagnosis) const { return besides_[diagnosis]; }
  /// The nets that a point is on.
  struct NetRow {
    std::uint32_t number = 0;  ///< the same for the same nets
    std::span<const NetId> by_diagnosis;
  };
  [[nodiscard]] NetRow nets(std::uint32_t setup, PointId p);
  [[nodiscard]] const View& view(std::uint32_t setup, std::size_t diagnosis);

  /// By diagnosis what the buzzer may do. With more than 12 diagnoses, both where only solving the network
  /// would tell.
  [[nodiscard]] std::vector<Outcomes> by_buzzer(const CandidateReading& candidate);

  /// By diagnosis what values the meter may show, as numbers of ranges of values that don't overlap.
  struct InOhms {
    std::vector<Outcomes> outcomes;
    std::vector<OhmInterval> ranges;  ///< by outcome
  };
  [[nodiscard]] InOhms in_ohms(const CandidateReading& candidate);

 private:
  struct Stand;
  [[nodiscard]] std::span<const std::unique_ptr<Stand>> stands(std::uint32_t setup);  ///< by diagnosis
  [[nodiscard]] Probing probing(const CandidateReading& candidate) const;
  [[nodiscard]] bool believes(std::size_t diagnosis, ReadingId reading) const;
  [[nodiscard]] std::optional<Outcomes> decided(Stand& with, std::uint32_t setup, std::size_t diagnosis,
                                                const CandidateReading& candidate);
  void find_decided(Stand& with, std::uint32_t setup, std::size_t diagnosis);
  [[nodiscard]] ReadingId seen_in_ohms(const CandidateReading& candidate, std::size_t diagnosis);
  [[nodiscard]] std::optional<Outcomes> buzzer_of(const Probing& taken) const;
  [[nodiscard]] std::uint64_t pair(std::uint32_t red, std::uint32_t black) const;
  [[nodiscard]] std::uint64_t net_pair(const View& view, PointId red, PointId black) const;

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::span<const Diagnosis> diagnoses_;
  std::vector<std::vector<Fault>> besides_;
  const Cluster& cluster_;
  const ReadingsByNet& taken_;
  MeterSettings meter_;
  std::vector<NetId> near_;
  std::vector<std::vector<std::unique_ptr<Stand>>> stands_;     ///< by setup, then diagnosis
  std::map<std::vector<NetId>, std::uint32_t> rows_;            ///< by nets: their number
  std::map<std::pair<std::uint32_t, PointId>, NetRow> row_at_;  ///< by setup and point
};

/// Cuts the values that a meter may show into ranges, rising: each interval reaches into at least one of
/// them, and disjoint intervals share none (as long as there are no more ranges than `Outcomes` has bits).
[[nodiscard]] std::vector<OhmInterval> ranges_between(std::vector<OhmInterval> shown);

}  // namespace ringtrue
