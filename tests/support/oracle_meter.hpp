#pragma once
#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/condition.hpp"
#include "tests/support/dense_network.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {

/// A panel with one true value for every element, and what an ideal meter shows on it: by dense elimination,
/// diodes found by trying every set of them. Shares nothing with the solver; the intervals to draw values
/// from are asked of the graph, since they are what's tested.
class OraclePanelValues {
 public:
  struct Element {
    std::uint32_t a = 0, b = 0;  ///< a diode's anode and cathode
    double ohms = 0;
    bool is_diode = false;
  };

  /// Draws a value inside each element's interval; an unknown or unlimited one up to a megohm.
  OraclePanelValues(const ConductionGraph& graph, std::mt19937& random) : points_(graph.point_count()) {
    for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
      const ElementId e{i};
      if (!graph.is_on_at_rest(e)) continue;
      elements_.push_back({index(graph.end_a(e)), index(graph.end_b(e)), value(graph.interval(e), random),
                           graph.is_diode(e)});
    }
  }

  /// Ohms between two points with the meter's plus on `red`; infinite where nothing conducts.
  [[nodiscard]] double ohms(PointId red, PointId black) const {
    std::vector<Element> present, diodes;
    for (const Element& e : elements_) (e.is_diode ? diodes : present).push_back(e);
    // A set of conducting diodes is right if each of them, and none of the others, has its current forward.
    for (std::uint32_t set = 0; set < (1u << diodes.size()); ++set) {
      std::vector<Element> with = present;
      for (std::size_t k = 0; k < diodes.size(); ++k)
        if ((set >> k & 1u) != 0) with.push_back(diodes[k]);
      if (!fits(with, diodes, set, index(red), index(black))) continue;
      const std::vector<long double> volts = potentials(points_, with, index(red), index(black));
      return volts.empty() ? std::numeric_limits<double>::infinity() : static_cast<double>(volts[index(red)]);
    }
    return std::numeric_limits<double>::quiet_NaN();
  }

 private:
  /// With a high resistance from every point to black, so that each has a potential.
  [[nodiscard]] bool fits(std::vector<Element> with, const std::vector<Element>& diodes, std::uint32_t set,
                          std::uint32_t red, std::uint32_t black) const {
    constexpr double k_leak_ohms = 1e12;
    for (std::uint32_t p = 0; p < points_; ++p)
      if (p != black) with.push_back({p, black, k_leak_ohms, false});
    const std::vector<long double> volts = potentials(points_, with, red, black);
    const long double tie = 1e-9L * volts[red];
    for (std::size_t k = 0; k < diodes.size(); ++k) {
      const long double drop = volts[diodes[k].a] - volts[diodes[k].b];
      if ((set >> k & 1u) != 0 ? drop < -tie : drop > tie) return false;
    }
    return true;
  }

  static double value(OhmInterval ohms, std::mt19937& random) {
    const double low = std::max(ohms.lo.value, 1e-3), high = std::min(ohms.hi.value, 1e6);
    if (high <= low) return ohms.lo.value;
    switch (random() % 4) {
      case 0:
        return low;
      case 1:
        return high;
      default:
        return std::pow(10,
                        std::uniform_real_distribution<double>(std::log10(low), std::log10(high))(random));
    }
  }

  std::uint32_t points_;
  std::vector<Element> elements_;
};

/// A small panel with loads of every kind as text for `netlist()`: coils with and without ohms, freewheel
/// diodes, a lamp, a module between two potentials, a supply, fuses of stated ohms, and wires thrown at
/// random.
inline std::string random_panel_with_loads(unsigned seed) {
  std::mt19937 random(seed);
  const auto pick = [&](auto... names) {
    const char* all[] = {names...};
    return std::string(all[random() % sizeof...(names)]);
  };
  std::string text = "part K1 coil A1 A2 " + pick("160", "650", "12", "-") + "\n";
  text += "part K2 coil A1 A2 " + pick("160", "1200", "-") + "\npart K1 contact-nc 21 22\n";
  text += "part P1 lamp x1 x2 " + pick("576", "57", "115") + "\npart A1 electronics L+ M\n";
  if (random() % 2 == 0) text += "part V1 diode A K\n90 V1:K K1:A1\n91 V1:A K1:A2\n";
  if (random() % 3 == 0) text += "part V2 diode A K\n92 V2:A " + pick("K1:A1", "X1:2.int", "K2:A1") + "\n";
  if (random() % 2 == 0) text += "part G1 supply L+ M\n";
  if (random() % 4 == 0) text += "part F20 surge 1 2\n";
  if (random() % 4 == 0) text += "part T1 transformer 1 2\n";
  text += "part X1:1 fuse int ext " + pick("-", "-", "4") + "\npart X1:2 terminal\npart X1:3 terminal\n";
  text += "- X1:2.int X1:3.int bridge\n";
  const auto some_point = [&] {
    return pick("K1:A1", "K1:A2", "K2:A1", "K2:A2", "K1:21", "K1:22", "P1:x1", "P1:x2", "A1:L+", "A1:M",
                "G1:L+", "G1:M", "X1:1.int", "X1:1.ext", "X1:2.int", "X1:2.ext", "X1:3.int", "V2:K", "F20:1",
                "T1:1", "T1:2");
  };
  throw_wires(text, static_cast<unsigned>(6 + random() % 8), some_point);
  return text;
}

}  // namespace ringtrue::testing
