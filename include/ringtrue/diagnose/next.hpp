#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/diagnose/diagnose.hpp"

namespace ringtrue {

/// What it takes to take a reading; only ratios count. No measured times are published that we know of: all
/// are estimates.
struct Efforts {
  double reading = 1;       ///< two probes on neighbouring points, and a look at the meter
  double value = 0.25;      ///< a value in ohms has to settle and be written down
  double same_part = 0.25;  ///< the probes are some points apart on one part
  double other_part = 1;    ///< the probes are on different parts
  double pin = 0.1;         ///< per probe on a device's pin, which is harder to reach than a terminal
  double operate = 3;       ///< something held operated, or turned to a position
  double switch_over = 3;   ///< a breaker or isolator
  double take_out = 4;      ///< a fuse, or the link of a disconnect terminal
  double unplug = 5;        ///< a part pulled from its socket, or a connector
  double lift = 10;         ///< a conductor out of its clamp, and in again
  double lead = 4;          ///< a temporary lead fitted
  double field = 20;        ///< the field cables connected
};

struct NextOptions {
  std::size_t max_diagnoses = 40;  ///< per cluster: only the likeliest are told apart
  std::size_t max_readings = 200;  ///< tried per cluster
  Efforts efforts;
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
