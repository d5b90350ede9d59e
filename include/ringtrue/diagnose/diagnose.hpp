#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/base/threads.hpp"
#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/diagnose/priors.hpp"

namespace ringtrue {

/// How far explanations are searched. Shares are of the probability of the first one of a cluster.
struct DiagnoseOptions {
  std::size_t max_faults = 3;  ///< per cluster
  /// Diagnoses of several faults are listed down to this share of the likeliest one's probability.
  double least_share = 0.01;
  double least_single_share = 1e-4;  ///< the same for single faults
  /// Sets of faults tried per cluster and round at most; a round that would take more is left out, and the
  /// cluster says how far it is complete.
  std::size_t max_sets = 20'000;
  /// The same for faults that one reading alone asks for: more places than anybody would look at.
  std::size_t max_choices = 5'000;
  /// Explains all disagreements as one cluster, so that faults that mask each other are found too.
  bool joint = false;
  Priors priors;
  Threads threads;
};

/// A reading in ohms as a diagnosis explains it.
struct ExplainedOhms {
  ReadingId reading = ReadingId::none;
  OhmInterval ohms;                           ///< what the meter may show with the faults
  std::vector<std::vector<ElementId>> loads;  ///< by way, the ways in parallel
};

/// A set of faults that makes every current reading of its cluster possible and contradicts no other reading;
/// no proper subset of it does.
struct Diagnosis {
  std::vector<Fault> faults;  ///< sorted; of the likeliest set of the class
  /// -ln of the likelihoods of the class and its equivalents in sum; of one set it's the sum of -ln(p / (1 -
  /// p)) over the faults, and ln 20 (estimate: one in twenty) for each beep that copper would have explained
  /// and that under these faults only the unknown value of a load makes possible; less ln 20, once, if they
  /// make a beep certain that on the drawing only such a load makes possible. Less the cost of explaining the
  /// clusters in `also_explains`.
  double cost = 0;
  double probability = 0;                  ///< share among the diagnoses listed for the cluster
  std::size_t rank = 1;                    ///< 1 = cheapest; equal cost shares a rank
  std::vector<std::size_t> also_explains;  ///< other clusters that it explains as well
  std::vector<ExplainedOhms> in_ohms;      ///< for the likeliest of a cluster: its readings in ohms
  /// Other sets of faults that no reading between points of the drawing can tell from this one.
  std::vector<std::vector<Fault>> equivalent;
};

/// Disagreements that must be explained together.
struct Cluster {
  std::vector<ReadingId> readings;   ///< the disagreeing ones, in file order
  std::vector<Diagnosis> diagnoses;  ///< cheapest first; empty if nothing within `max_faults` explains them
  std::size_t complete_up_to =
      0;  ///< every minimal diagnosis with at most this many faults and the shares below is listed
  double cost_limit = 0;   ///< ... and whose cost is at most this
  bool cut_short = false;  ///< there were too many sets to try to get down to the shares that were asked for
  /// More than `max_choices` single faults may explain it down to `least_single_share`; they were not tried.
  /// Together they may be likelier than what is listed.
  bool too_many = false;
  /// Where nothing explains them: some of the readings that together with those that agree already contradict
  /// each other, whatever up to `max_faults` is wrong, and none of which can be left out. With one reading
  /// more than `max_faults` no smaller set does. Empty if the search was cut short.
  std::vector<ReadingId> contradiction;
};

/// Faulty goes before proven: it needs a likeliest diagnosis on a path, proven all of its elements.
enum class ChannelState : std::uint8_t { proven, unproven, faulty };
[[nodiscard]] std::string_view word(ChannelState state);

/// What the readings show of one channel.
struct ChannelResult {
  ChannelState state = ChannelState::unproven;
  /// Of the points on its signal, each neighbour on another net was read open against it, with neither net
  /// parted by a condition.
  bool isolated = false;
  std::vector<ElementId> unproven_elements;  ///< on its signal, return and common path
  std::vector<std::size_t> clusters;         ///< whose rank-1 diagnosis touches its paths
};

/// Clusters of which not all likeliest diagnoses hold: with all of them the reading would have come out
/// otherwise, and nothing likelier was soon found that explains the clusters together.
struct Conflict {
  std::vector<std::size_t> clusters;  ///< two, or more where no two of them do it
  ReadingId reading = ReadingId::none;
};

/// All that the readings say of the panel.
struct Findings {
  std::vector<Cluster> clusters;        ///< in order of their first reading
  std::vector<Conflict> conflicts;      ///< one for each choice of clusters
  std::vector<std::uint8_t> proven;     ///< by element: presence proven by a current reading
  std::vector<ChannelResult> channels;  ///< by channel
  std::size_t nodes_expanded = 0;       ///< work done: sets of faults tried in the searches
  std::size_t nets_relabelled = 0;      ///< work done: nets labelled anew to try sets of faults
};

/// Explains the disagreements of a comparison.
///
/// For each cluster of disagreeing readings: all minimal sets of at most `max_faults` faults that explain
/// every one of them, cheapest first. Sound: each listed set, applied to the drawing, makes all current
/// readings of the cluster possible and breaks none that agrees. Complete up to `max_faults` and the stated
/// shares over the fault universe (`possible_faults`), except, unless `joint`, for faults that mask each
/// other across clusters and for two that each explain parts of two clusters. Method: conflict-driven
/// best-first search, src/diagnose/search.cpp.
[[nodiscard]] Findings diagnose(const ConductionGraph& graph, const Readings& readings,
                                const Comparison& comparison, const DiagnoseOptions& options = {});

}  // namespace ringtrue
