// Conditions and faults as the engine brings them onto a graph, against a panel built anew with them
// (tests/support/oracle_wiring.hpp): the bounds between any two points are the same.
#include <gtest/gtest.h>

#include <cstdio>
#include <random>

#include "ringtrue/diagnose/possible_faults.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_meter.hpp"
#include "tests/support/oracle_wiring.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

struct Compared {
  std::size_t readings = 0, changed = 0, kinds = 0;
};

/// Tries faults at random under the conditions of some readings.
class Wiring {
 public:
  Wiring(const Netlist& net, const Readings& readings, unsigned seed, bool has_lengths)
      : net_(net), graph_(net), readings_(readings), drawn_(net), random_(seed), has_lengths_(has_lengths) {
    comparison_ = compare(graph_, readings, {}).value();
    for (const PossibleFault& possible : possible_faults(graph_, readings, comparison_))
      by_kind_[possible.fault.kind].push_back(possible.fault);
  }

  void compare_faults(std::size_t of_each_kind, Compared& compared) {
    for (const auto& [kind, faults] : by_kind_)
      for (std::size_t i = 0; i < of_each_kind; ++i)
        compare_one(faults[random_() % faults.size()], random_() % readings_.conditions.size(), compared);
    compared.kinds = std::max(compared.kinds, by_kind_.size());
  }

 private:
  void compare_one(const Fault& fault, std::size_t number, Compared& compared) {
    SCOPED_TRACE(std::string(word(fault.kind)) + " under " + readings_.conditions[number]);
    const OracleCondition condition(readings_.conditions[number], comparison_.conditions.overlays[number],
                                    net_);
    OracleWiring built = drawn_;
    built.inject(fault);
    const OracleReadings oracle(built, condition), as_drawn(drawn_, condition);
    Overlay overlay = comparison_.conditions.overlays[number].overlay;
    apply(fault, graph_, overlay);
    const View view(graph_, overlay);
    for (int i = 0; i < 6; ++i) {
      Probing probing;
      probing.from = some_point(fault, oracle.points()), probing.to = some_point(fault, oracle.points());
      const std::uint32_t red = index(probing.from), black = index(probing.to);
      const OhmInterval expected = expected_resistance(view, probing);
      const double lowest = oracle.lowest(red, black);
      const double highest = has_lengths_ ? 0 : oracle.highest(red, black);
      EXPECT_TRUE(is_known_from_above(fault) || is_same(expected.lo.value, lowest))
          << red << " to " << black << ": " << expected.lo.value << ", plainly " << lowest;
      EXPECT_TRUE(has_lengths_ || is_same(expected.hi.value, highest))
          << red << " to " << black << ": " << expected.hi.value << ", plainly " << highest;
      ++compared.readings;
      compared.changed += oracle.lowest(red, black) != as_drawn.lowest(red, black) ? 1 : 0;
    }
  }

  /// The oracle has conductors with a length from above only, and so the least of a bad joint on one.
  [[nodiscard]] bool is_known_from_above(const Fault& fault) const {
    return has_lengths_ && fault.kind == FaultKind::wrong_value;
  }
  /// Half of them next to the fault.
  PointId some_point(const Fault& fault, std::uint32_t points) {
    const PointId near[] = {fault.element == ElementId::none ? fault.p : graph_.end_a(fault.element),
                            fault.element == ElementId::none ? fault.q : graph_.end_b(fault.element),
                            fault.element2 == ElementId::none ? fault.p : graph_.end_a(fault.element2),
                            fault.element2 == ElementId::none ? fault.q : graph_.end_b(fault.element2)};
    const PointId p = near[random_() % 4];
    return random_() % 2 == 0 && p != PointId::none ? p
                                                    : PointId{static_cast<std::uint32_t>(random_() % points)};
  }
  /// The plain elimination takes a micro-ohm for nothing.
  static bool is_same(double one, double other) {
    return one == other || std::abs(one - other) <= 1e-4 + 1e-6 * std::abs(one);
  }

  const Netlist& net_;
  ConductionGraph graph_;
  const Readings& readings_;
  OracleWiring drawn_;
  std::mt19937 random_;
  bool has_lengths_;
  Comparison comparison_;
  std::map<FaultKind, std::vector<Fault>> by_kind_;
};

TEST(Wiring, FaultsUnderConditionsGiveTheBoundsOfAPanelBuiltSo) {
  const unsigned base = test_seed() * 100'000;
  Compared compared;
  for (unsigned seed = base; seed < base + 200; ++seed) {
    const std::string text = seed % 2 == 0 ? random_panel_with_loads(seed) : random_small_panel(seed);
    SCOPED_TRACE("seed " + std::to_string(seed) + "\n" + text);
    const Netlist net = netlist(text);
    const std::string from = net.points.name(PointId{0}), to = net.points.name(PointId{1});
    std::string lines;
    for (const std::string condition :
         {"", "K1=operated", "K1=unplugged", "X1:1=out", "X1:1=out;K1=operated"})
      lines += from + " " + to + " 0.1 " + condition + "\n";
    const Readings readings = testing::readings(lines);
    Wiring(net, readings, seed, false).compare_faults(6, compared);
    if (HasFailure()) return;
  }
  std::printf("%zu bounds, %zu of them changed by the fault; %zu kinds of fault\n", compared.readings,
              compared.changed, compared.kinds);
  EXPECT_GT(compared.changed, 2000u);
  EXPECT_GE(compared.kinds, 9u);
}

TEST(Wiring, FaultsOfTheDemosGiveTheBoundsOfAPanelBuiltSo) {
  for (const std::string folder : {"quickstart", "grain-dryer"}) {
    SCOPED_TRACE(folder);
    const Netlist net = load_netlist(RINGTRUE_NETLISTS "/" + folder).value();
    const Readings readings = load_readings(RINGTRUE_NETLISTS "/" + folder + "/readings-good.csv").value();
    Compared compared;
    Wiring(net, readings, test_seed(), true).compare_faults(40, compared);
    std::printf("%s: %zu bounds, %zu of them changed by the fault; %zu kinds of fault\n", folder.c_str(),
                compared.readings, compared.changed, compared.kinds);
    EXPECT_GT(compared.changed, 200u);
  }
}

}  // namespace
}  // namespace ringtrue::testing
