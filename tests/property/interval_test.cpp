// The predicted interval against panels whose every value is known: random panels with loads of every kind,
// values drawn inside the elements' intervals, solved naively (tests/support/oracle_meter.hpp).
#include <gtest/gtest.h>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/judge.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_meter.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

Probing between(std::uint32_t from, std::uint32_t to) {
  Probing probing;
  probing.from = PointId{from}, probing.to = PointId{to};
  return probing;
}

TEST(Interval, HoldsTheExactValueOf10000Readings) {
  const unsigned base = testing::test_seed() * 100'000;
  int readings = 0, open = 0, straddling = 0, with_diodes = 0;
  for (unsigned panel = 0; panel < 1000; ++panel) {
    const std::string text = testing::random_panel_with_loads(base + panel);
    const Netlist net = testing::netlist(text);
    const ConductionGraph graph(net);
    const Overlay nothing;
    const View view(graph, nothing);
    std::mt19937 random(base + panel);
    const testing::OraclePanelValues values(graph, random);
    with_diodes += graph.has_diodes() ? 1 : 0;
    for (int i = 0; i < 11; ++i) {
      const auto from = static_cast<std::uint32_t>(random() % graph.point_count());
      const auto to = static_cast<std::uint32_t>(random() % graph.point_count());
      if (from == to) continue;
      const Probing probing = between(from, to);
      const OhmInterval whole = expected_resistance(view, probing);
      const double exact = values.ohms(probing.from, probing.to);
      ++readings;
      open += whole.is_open() ? 1 : 0;
      straddling += whole.lo.value <= 30 && whole.hi.value > 30 ? 1 : 0;
      ASSERT_LE(whole.lo.value * (1 - 1e-9), exact)
          << text << net.points.name(probing.from) << " to " << net.points.name(probing.to);
      ASSERT_GE(whole.hi.value * (1 + 1e-9), exact)
          << text << net.points.name(probing.from) << " to " << net.points.name(probing.to);
    }
  }
  // The cases have to be of all sorts for this to mean something.
  std::printf("%d readings: %d open, %d may beep or not; %d panels with diodes\n", readings, open, straddling,
              with_diodes);
  EXPECT_GT(readings, 10'000);
  EXPECT_GT(open, 500);
  EXPECT_GT(straddling, 500);
}

TEST(Interval, RaisingAnElementNeverLowersEitherEnd) {
  const unsigned base = testing::test_seed() * 100'000;
  for (unsigned panel = 0; panel < 300; ++panel) {
    const Netlist net = testing::netlist(testing::random_panel_with_loads(base + panel));
    const ConductionGraph graph(net);
    std::mt19937 random(base + panel);
    for (int i = 0; i < 10; ++i) {
      const Probing probing = between(static_cast<std::uint32_t>(random() % graph.point_count()),
                                      static_cast<std::uint32_t>(random() % graph.point_count()));
      const ElementId e{static_cast<std::uint32_t>(random() % graph.element_count())};
      const OhmInterval own = graph.interval(e);
      const double by = static_cast<double>(random() % 100);
      Overlay raised;
      raised.replace_interval(graph, e, {Ohms{own.lo.value + by}, Ohms{own.hi.value + by}});
      const Overlay nothing;
      const OhmInterval before = expected_resistance(View(graph, nothing), probing);
      const OhmInterval after = expected_resistance(View(graph, raised), probing);
      EXPECT_GE(after.lo.value * (1 + 1e-9), before.lo.value);
      EXPECT_GE(after.hi.value * (1 + 1e-9), before.hi.value);
    }
  }
}

// What joints really bring the resistance down to is taken from the solver, which the outside checks hold
// against ngspice; the bound may never say no to it.
TEST(Interval, JointsThatBringAResistanceDownAreNeverSaidNotTo) {
  const unsigned base = testing::test_seed() * 100'000;
  int asked = 0, through_loads = 0, refused = 0;
  for (unsigned panel = 0; panel < 1500; ++panel) {
    const std::string text = testing::random_panel_with_loads(base + panel);
    const Netlist net = testing::netlist(text);
    const ConductionGraph graph(net);
    std::mt19937 random(base + panel);
    const auto some = [&] { return PointId{static_cast<std::uint32_t>(random() % graph.point_count())}; };
    Overlay opened;
    if (panel % 2 == 1)
      opened.switch_off(graph, ElementId{static_cast<std::uint32_t>(random() % graph.element_count())});
    const View before(graph, opened);
    for (int i = 0; i < 12; ++i) {
      const Probing probing = between(index(some()), index(some()));
      std::vector<Joint> joints(1 + random() % 4);
      Overlay joined = opened;
      for (Joint& joint : joints) {
        joint = {some(), some()};
        joined.join(joint.p, joint.q, {Ohms{0}, Ohms{0.1}});
      }
      const Ohms was = expected_resistance(before, probing).lo;
      const Ohms is = expected_resistance(View(graph, joined), probing).lo;
      if (is == k_infinite_ohms || is.value >= was.value * (1 - 1e-6)) continue;
      ++asked;
      through_loads += is > Ohms{0} ? 1 : 0;
      const LoweringJoints enough(before, probing, Ohms{is.value * (1 + 1e-8) + 1e-7});
      EXPECT_TRUE(enough.may_do(joints))
          << text << net.points.name(probing.from) << " to " << net.points.name(probing.to) << ": "
          << was.value << " to " << is.value << " ohms";
      if (joints.size() == 1) {
        // One of its ends is a start, and the other one an end.
        const std::vector<NetId> starts = enough.starts(1);
        const auto leads = [&](PointId from, PointId to) {
          return std::find(starts.begin(), starts.end(), before.net(from)) != starts.end() &&
                 enough.may_end(to);
        };
        EXPECT_TRUE(leads(joints[0].p, joints[0].q) || leads(joints[0].q, joints[0].p)) << text;
      }
      const LoweringJoints too_low(before, probing, Ohms{is.value * 0.8 - 1});
      refused += is > Ohms{2} && !too_low.may_do(joints) ? 1 : 0;
    }
  }
  std::printf("%d sets of joints, %d of them leave loads on the way; less is refused for %d\n", asked,
              through_loads, refused);
  EXPECT_GT(asked, 3000);
  EXPECT_GT(through_loads, 500);
  EXPECT_GT(refused, 100);
}

/// The verdict by the definition, from the interval alone.
Verdict by_definition(const View& view, const Probing& reading, const MeterSettings& meter) {
  const bool is_ohms = reading.value.kind == ValueKind::ohms;
  const OhmInterval expected =
      expected_resistance(view, reading, is_ohms ? Counting::whole : Counting::limited);
  const double limit = meter.threshold.value * (1 + 1e-9);
  bool possible = expected.lo.value <= limit, opposite = expected.hi.value > limit;
  if (reading.value.kind == ValueKind::open) std::swap(possible, opposite);
  if (is_ohms) {
    const OhmInterval circuit = circuit_ohms(reading.value.number, meter);
    possible = expected.lo.value <= circuit.hi.value * (1 + 1e-9) &&
               expected.hi.value >= circuit.lo.value * (1 - 1e-9);
    opposite = expected.hi == k_infinite_ohms;
  }
  if (!possible) return Verdict::disagrees;
  return opposite ? Verdict::either : Verdict::agrees;
}

TEST(Interval, JudgingQuicklyComesToTheSameAsSolving) {
  const unsigned base = testing::test_seed() * 100'000;
  int readings = 0;
  for (unsigned panel = 0; panel < 500; ++panel) {
    const std::string text = testing::random_panel_with_loads(base + panel);
    const Netlist net = testing::netlist(text);
    const ConductionGraph graph(net);
    std::mt19937 random(base + panel);
    // Half of the panels have something opened, so that nets are relabelled.
    Overlay overlay;
    if (panel % 2 == 1) {
      overlay.switch_off(graph, ElementId{static_cast<std::uint32_t>(random() % graph.element_count())});
      overlay.join(PointId{static_cast<std::uint32_t>(random() % graph.point_count())},
                   PointId{static_cast<std::uint32_t>(random() % graph.point_count())}, k_joint_interval);
    }
    const View view(graph, overlay);
    Judge judge(view);
    const MeterSettings meter;
    for (int i = 0; i < 20; ++i) {
      Probing probing = between(static_cast<std::uint32_t>(random() % graph.point_count()),
                                static_cast<std::uint32_t>(random() % graph.point_count()));
      if (probing.from == probing.to) continue;
      const double shown[] = {0.1, 2, 20, 80, 160, 500, 5000};
      for (const ReadingValue value : {ReadingValue{ValueKind::beep, 0}, ReadingValue{ValueKind::open, 0},
                                       ReadingValue{ValueKind::ohms, shown[random() % 7]}}) {
        probing.value = value;
        const Verdict expected = by_definition(view, probing, meter);
        ++readings;
        ASSERT_EQ(judge.verdict(probing, meter), expected)
            << text << net.points.name(probing.from) << " to " << net.points.name(probing.to) << " "
            << to_text(value);
        ASSERT_EQ(judge.is_possible(probing, meter), expected != Verdict::disagrees);
      }
    }
  }
  EXPECT_GT(readings, 25'000);
}

/// What someone writes down who reads the true value with a meter: to three digits, with its error and leads.
std::string shown_by_ohmmeter(double ohms, std::mt19937& random) {
  if (ohms > 60e6) return "OL";
  const double error = std::uniform_real_distribution<double>(-0.02, 0.02)(random);
  const double leads = std::uniform_real_distribution<double>(0, 0.5)(random);
  char text[32];
  std::snprintf(text, sizeof text, "%.3g", std::max(0.0, ohms * (1 + error / 2) + leads));
  return text;
}

TEST(GoodPanels, NoReadingOf1000PanelsDisagrees) {
  const unsigned base = testing::test_seed() * 100'000;
  std::size_t beeps = 0, opens = 0, values = 0;
  for (unsigned panel = 0; panel < 1000; ++panel) {
    const std::string text = testing::random_panel_with_loads(base + panel);
    const Netlist net = testing::netlist(text);
    const ConductionGraph graph(net);
    std::mt19937 random(base + panel);
    const testing::OraclePanelValues built(graph, random);
    std::string lines;
    for (int i = 0; i < 20; ++i) {
      const PointId from{static_cast<std::uint32_t>(random() % graph.point_count())};
      const PointId to{static_cast<std::uint32_t>(random() % graph.point_count())};
      if (from == to) continue;
      const double ohms = built.ohms(from, to);
      const bool in_ohms = random() % 2 == 0;
      const std::string value = in_ohms ? shown_by_ohmmeter(ohms, random) : ohms <= 30 ? "beep" : "open";
      (value == "beep" ? beeps : value == "open" || value == "OL" ? opens : values) += 1;
      lines += net.points.name(from) + " " + net.points.name(to) + " " + value + "\n";
    }
    const Readings taken = testing::readings(lines);
    const Comparison comparison = compare(graph, taken, {}).value();
    ASSERT_EQ(comparison.disagree, 0u) << text << lines;
    ASSERT_TRUE(diagnose(graph, taken, comparison).clusters.empty());
  }
  std::printf("%zu beeps, %zu opens, %zu values in ohms\n", beeps, opens, values);
  EXPECT_GT(beeps, 2000u);
  EXPECT_GT(opens, 2000u);
  EXPECT_GT(values, 3000u);
}

}  // namespace
}  // namespace ringtrue
