#pragma once
#include <algorithm>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "landing.hpp"
#include "ringtrue/base/threads.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"

namespace ringtrue {

/// Which disagreeing readings a set of faults has to explain. Agreeing readings always have to stay possible;
/// the disagreeing readings of other clusters are left out of account.
using Scope = std::vector<ReadingId>;
[[nodiscard]] Scope all_disagreements(const Comparison& comparison);

/// A shift alone, which moves many conductors, nearly always contradicts a reading other than those it is
/// made for.
[[nodiscard]] inline bool fails_at_others(std::span<const Fault> faults) {
  return faults.size() == 1 && faults.front().kind == FaultKind::shift;
}

/// Tries sets of faults: applies them to the drawing and judges again the readings that they can change.
///
/// Only readings that a fault can change are judged again: those with a probe on a net that the fault (or the
/// reading's condition, where the two meet) touches, and those that loads let it reach. They are found by an
/// index of readings by net at rest and condition. A copy shares the index, and nothing else that changes: it
/// may be used by another thread until a reading is added.
class Consistency {
 public:
  Consistency(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
              Threads threads = {});

  /// Takes in a reading that was appended to the comparison, under a condition that was there before. True if
  /// that widens the fault universe.
  bool add_last();
  /// What the unknown values of loads have to do with beeps.
  struct Doubts {
    std::size_t left = 0;  ///< copper explained them before, or ought to; under the faults only a load can
    std::size_t settled =
        0;  ///< on the drawing only a load of unknown value can; under the faults they are certain
  };
  /// What is in doubt if every reading is possible: those of the scope and all that agree with the drawing.
  /// Nothing if one isn't. `doubtful`: readings to ask first.
  [[nodiscard]] std::optional<Doubts> explained(std::span<const Fault> faults, const Scope& scope,
                                                std::vector<ReadingId> doubtful = {}) const;
  [[nodiscard]] bool explains(std::span<const Fault> faults, const Scope& scope) const {
    return explained(faults, scope).has_value();
  }
  /// No agreeing reading is contradicted, whatever the disagreeing ones say.
  [[nodiscard]] bool is_unrefuted(std::span<const Fault> faults) const;
  /// Agreeing readings that the faults make impossible.
  [[nodiscard]] std::vector<ReadingId> contradicted(std::span<const Fault> faults) const;
  /// One of them, of the first `preferred` readings if that's possible; `none` if there is none.
  [[nodiscard]] ReadingId one_contradicted(std::span<const Fault> faults, std::size_t preferred) const;
  /// The fault set makes this one reading possible.
  [[nodiscard]] bool explains_reading(std::span<const Fault> faults, ReadingId reading) const;
  /// Readings that the faults leave or make impossible, in file order.
  [[nodiscard]] std::vector<ReadingId> mispredicted(std::span<const Fault> faults, const Scope& scope) const;

  /// Readings that several sets of faults can change, and that all of them together make impossible, in file
  /// order.
  [[nodiscard]] std::vector<ReadingId> contradicted_together(std::span<const std::vector<Fault>> sets,
                                                             std::span<const Fault> all,
                                                             const Scope& scope) const;

  /// The same of faults that are known to explain the scope.
  [[nodiscard]] Doubts doubts(std::span<const Fault> faults, const Scope& scope) const;
  /// The reading would count among them.
  [[nodiscard]] bool is_doubt(std::span<const Fault> faults, ReadingId reading) const;
  /// The faults touch a net where they may change the reading.
  [[nodiscard]] bool can_change(std::span<const Fault> faults, ReadingId reading) const;
  /// Points that the faults join or part, as far as they are drawn.
  [[nodiscard]] std::vector<PointId> points_of(std::span<const Fault> faults) const;
  /// Nets at rest that the faults touch, sorted.
  [[nodiscard]] std::vector<NetId> touched_by(std::span<const Fault> faults) const;
  /// Nets at rest of which faults have to touch one before they can change the reading.
  [[nodiscard]] std::vector<NetId> nets_where_faults_change(ReadingId reading) const;

  /// From here on, which nets the faults touch that are tried on all readings they can change.
  void watch() const {
    watched_.clear();
    is_watching_ = true;
  }
  /// Those nets, sorted: a further reading that no fault there can change would have changed no answer.
  [[nodiscard]] std::vector<NetId> watched() const;

  /// Current, and of a kind that is predicted.
  [[nodiscard]] bool is_used(ReadingId reading) const;
  /// Some reading in ohms may carry current through the element's net: copper of a wrong value elsewhere
  /// can't be told from copper as drawn, or from an open.
  [[nodiscard]] bool is_read_in_ohms(ElementId e) const {
    return index_->read_in_ohms[index(graph_.net_at_rest(graph_.end_a(e)))] ||
           index_->read_in_ohms[index(graph_.net_at_rest(graph_.end_b(e)))];
  }

  /// The condition of a reading with the faults on top.
  [[nodiscard]] Overlay overlay(std::span<const Fault> faults, ReadingId reading) const;

  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] const Comparison& comparison() const { return comparison_; }
  [[nodiscard]] const Probing& probing(ReadingId reading) const {
    return comparison_.probings[index(reading)];
  }
  [[nodiscard]] std::uint16_t condition_of(ReadingId reading) const {
    return readings_.rows[index(reading)].condition;
  }
  /// Those in use that are taken at a point, or at a conductor lifted off it.
  [[nodiscard]] std::span<const ReadingId> readings_at(PointId p) const {
    return {index_->at_probe.data() + index_->probe_start[index(p)],
            index_->at_probe.data() + index_->probe_start[index(p) + 1]};
  }
  /// The drawing under one of the readings' conditions, without faults.
  [[nodiscard]] const View& drawn_view(std::uint16_t condition) const { return drawn_views_[condition]; }
  [[nodiscard]] std::span<const View> drawn_views() const { return drawn_views_; }
  [[nodiscard]] const MeterSettings& meter(ReadingId reading) const { return comparison_.meters.of(reading); }
  [[nodiscard]] std::size_t nets_relabelled() const { return nets_relabelled_; }

 private:
  struct Run {
    std::uint16_t condition;
    std::uint32_t first, last;  ///< in `index_->entries`
  };
  /// Appends the nets of the next reading; true if copper that wasn't is now read in ohms.
  bool add_reading(std::uint32_t reading);
  void index_nets();
  void index_probes();
  template <class Visit>
  void for_each_net_at_rest(std::uint32_t reading, Visit&& visit) const;
  [[nodiscard]] std::vector<NetId> nets_through_loads(std::uint32_t reading) const;
  [[nodiscard]] std::vector<NetId> all_joined_by_loads(const View& view, const std::vector<NetId>& red,
                                                       const std::vector<NetId>& black) const;
  [[nodiscard]] std::vector<NetId> at_rest(std::vector<NetId> nets, const View& view) const;
  [[nodiscard]] PointId clamp_of(std::uint32_t reading, PointId probe) const;
  /// Nets at rest where a fault can change the reading, but for what its condition joins.
  [[nodiscard]] std::span<const NetId> nets_of(ReadingId reading) const;
  [[nodiscard]] std::vector<NetId> nets_under_condition(std::uint32_t reading) const;
  [[nodiscard]] std::vector<Run> affected_by(std::span<const Fault> faults) const;
  [[nodiscard]] bool is_disagreement(ReadingId reading) const {
    return comparison_.standing[index(reading)] == Standing::disagrees;
  }
  /// A disagreement that another cluster has to explain.
  [[nodiscard]] bool is_outside(ReadingId reading, const Scope& scope) const {
    return is_disagreement(reading) && !std::binary_search(scope.begin(), scope.end(), reading);
  }
  /// Visits every affected reading once with a judge under its condition and the faults; `visit(reading,
  /// judge)` returns false to stop.
  template <class Visit>
  void for_each_affected(std::span<const Fault> faults, Visit&& visit) const {
    for_each_affected(faults, {}, visit);
  }
  /// The same, `first` before all others under their condition.
  template <class Visit>
  void for_each_affected(std::span<const Fault> faults, std::vector<ReadingId> first, Visit&& visit) const;
  void start_trial() const;
  enum class Cost : std::uint8_t { cheap, dear };
  template <class Visit>
  bool for_each_judged(std::span<const Fault> faults, const std::vector<Run>& runs,
                       std::span<const ReadingId> first, Cost cost, Visit&& visit) const;
  [[nodiscard]] std::vector<ReadingId> probing_at(std::span<const Fault> faults) const;
  [[nodiscard]] bool is_dear(ReadingId reading) const {
    return comparison_.probings[index(reading)].value.kind == ValueKind::ohms;
  }
  /// Counts it among the doubts, too, if it is one.
  bool is_possible(ReadingId reading, Judge& judge, Doubts& doubts) const;
  [[nodiscard]] bool has_upper_limit(ReadingId reading) const;
  [[nodiscard]] bool holds_ohms(std::span<const Run> runs) const;

  /// A reading that isn't taken at rest, and a net where a fault can change it, as its condition has it.
  struct Other {
    std::uint16_t condition;
    NetId net;
    ReadingId reading;
    friend auto operator<=>(const Other&, const Other&) = default;
  };
  /// The readings by what changes them.
  struct Index {
    std::vector<NetId> nets;  ///< where a fault can change a reading, by reading
    std::vector<std::uint32_t> nets_end;
    std::vector<std::uint32_t> entry_start;  ///< by net at rest
    std::vector<ReadingId> entries;          ///< by net at rest, then by condition and net under it
    std::vector<Other> others;
    std::vector<std::unordered_map<NetId, Run>> under_condition;  ///< by condition
    std::vector<std::uint32_t> probe_start;                       ///< by point
    std::vector<ReadingId> at_probe;                              ///< by point: the readings taken there
    std::vector<bool> read_in_ohms;                               ///< by net at rest
  };

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::shared_ptr<Index> index_;
  std::vector<View> drawn_views_;  ///< by condition
  // Room to work in.
  mutable std::vector<std::uint16_t> stamp_;  ///< by reading: the last trial that judged it
  mutable std::uint16_t trial_ = 0;
  mutable std::vector<NetId> watched_;  ///< at rest, some of them repeatedly
  mutable bool is_watching_ = false;
  mutable std::unordered_map<ReadingId, bool> has_upper_limit_;  ///< on the drawing
  mutable std::size_t nets_relabelled_ = 0;
};

}  // namespace ringtrue
