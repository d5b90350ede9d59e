#pragma once
#include <cstdint>
#include <vector>

#include "quick_bounds.hpp"
#include "ringtrue/expect/effective_resistance.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// What of a view can carry current between two probes, with its points or nets numbered: red is 0.
struct Network {
  struct Branch {
    std::uint32_t a = 0, b = 0;  ///< a diode's anode and cathode
    View::Edge edge;
    OhmInterval ohms;
    Ohms stated{0};  ///< share of the upper value that isn't a default; the whole value of a load
    bool is_diode = false;
    bool is_hard = true;
  };
  std::vector<Branch> branches;  ///< without diodes that no current from red to black can pass
  std::vector<PointId> points;   ///< by node; empty where the nodes are nets
  std::vector<NetId> nets;       ///< by node; empty where the nodes are points
  std::uint32_t nodes = 0;
  /// What the side that a bare name doesn't tell may add to the upper end: a body for each such lead.
  Ohms unknown_sides{0};
  std::uint32_t black = 0;  ///< `nodes` where nothing leads there

  static constexpr std::uint32_t k_red = 0;
};

/// Every point and element between the probes of a reading.
[[nodiscard]] Network network_of_points(const View& view, const Probing& reading);
/// The nets and loads alone, copper counted as 0 ohms: less to solve. `copper_is_free` is set to whether all
/// copper in it may have 0 ohms, so that its lower end is that of the points.
[[nodiscard]] Network network_of_nets(const View& view, const ProbedNets& nets, bool& copper_is_free);
/// The same with every diode, for what further joints may change.
[[nodiscard]] Network network_with_all_diodes(const View& view, const ProbedNets& nets);

/// A diode that conducts has at least this much: at its lowest it drops some 0.2 V, and no meter drives more
/// than an ampere. Small beside all else, so that the direction of its current can be told.
inline constexpr Ohms k_least_diode_ohms{1e-6};

/// The two ends of the interval. The true resistance lies between them whatever the elements' true values in
/// their intervals are.
[[nodiscard]] Ohms lower_end(const Network& network);
/// The solution behind the lower end, with the potentials of the nodes. No potentials where it's 0 or open.
[[nodiscard]] EffectiveResistance lowest_potentials(const Network& network);
[[nodiscard]] Ohms upper_end(const Network& network, Counting counting);

}  // namespace ringtrue
