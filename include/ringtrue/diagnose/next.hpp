#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/diagnose/efforts.hpp"

namespace ringtrue {

/// How much is tried for a cluster. More takes longer and may find a better reading.
struct NextOptions {
  std::size_t max_diagnoses = 40;  ///< per cluster: only the likeliest are told apart
  std::size_t max_readings = 200;  ///< tried per cluster
  Efforts efforts;
  Threads threads;
};

/// What a cluster leaves to be found out.
enum class NextState : std::uint8_t {
  unexplained,      ///< it has no diagnosis: its readings are to be taken again
  one_explanation,  ///< nothing is left to tell apart
  one_remedy,       ///< its diagnoses call for the same work
  inseparable,      ///< none of the readings tried tells its diagnoses apart
  reading,          ///< there is a reading to take
};
[[nodiscard]] std::string_view word(NextState state);  ///< `unexplained`, `one-explanation`, ...

/// What may be read, and what it leaves.
struct NextOutcome {
  bool beeps = false;  ///< of a reading by the buzzer
  OhmInterval ohms;    ///< of a reading in ohms: what the meter may show then, infinite for OL
  /// A diagnosis that the outcome leaves.
  struct Left {
    std::size_t diagnosis;  ///< in `Cluster::diagnoses`
    double probability;     ///< once this was read
  };
  std::vector<Left> left;  ///< likeliest first; without those beyond `max_diagnoses`
  double probability = 0;  ///< of reading this
};

/// What is to be read next for a cluster.
struct NextReading {
  NextState state = NextState::unexplained;
  // The rest only for a reading to take.
  PointId from = PointId::none, to = PointId::none;
  ReadingId again = ReadingId::none;  ///< the same as this one: take it again as it is written there
  std::string conditions;             ///< as a file of readings has them; empty at rest
  bool in_ohms = false;               ///< else with the buzzer
  std::vector<NextOutcome> outcomes;  ///< a beep first; values in ohms rising
  double bits = 0;                    ///< expected information
  double bits_open = 0;               ///< what there is to be found out
  double effort = 0;
};

/// Chooses for each cluster the reading to take next; one entry per cluster, in their order.
///
/// The choice is the reading after which the least effort is to be expected until the remedy is known, going
/// by the greatest information per effort from then on. Diagnoses that call for the same work (an open and a
/// bad joint of one conductor, a wire on the one or on the other side of a terminal) need not be told apart.
/// Where the value of a load decides whether a diagnosis makes a beep, both count as equally likely, unless a
/// reading between the same nets has decided.
///
/// What is tried: pairs of the points that the diagnoses concern, a terminal of a strip on the same copper
/// first; at rest, under the conditions of the cluster's readings, and, where that parts too little, with one
/// thing more opened (a fuse out, a link open, a part unplugged, an end lifted). At most
/// `options.max_readings` of them, those that copper alone makes most telling first; so there may be a better
/// one. Never a reading that separates nothing.
/// Of the other clusters the likeliest diagnosis counts as true, where it's near.
/// A prediction is sound as `judge` is: a diagnosis that an outcome leaves out can't have shown it.
[[nodiscard]] std::vector<NextReading> next_readings(const ConductionGraph& graph, const Readings& readings,
                                                     const Comparison& comparison, const Findings& findings,
                                                     const NextOptions& options = {});

}  // namespace ringtrue
