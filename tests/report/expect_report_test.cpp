#include "ringtrue/report/expect_report.hpp"

#include <gtest/gtest.h>

#include "tests/report/report_support.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing::netlist;

using testing_support::has;

/// What is told of a reading from one point to the other, with a meter that sounds up to 30 Ω.
std::string expected(const std::string& panel, const std::string& from, const std::string& to,
                     const std::string& when = "") {
  const Netlist net = netlist(panel);
  const ConductionGraph graph(net);
  Probing probing;
  probing.from = testing::point(net, from), probing.to = testing::point(net, to);
  MeterSettings settings;
  settings.threshold = Ohms{30};
  const Expectation made = explain(graph, probing, when, settings).value();
  return expect_text({graph, from, to, when, {{"", settings, made}}, std::nullopt});
}

TEST(ExpectReport, BothLeadsOnOnePoint) {
  const std::string text = expected("1 K1:A1 X1:1.int\n", "K1:A1", "K1:A1");
  EXPECT_TRUE(has(text, "\nBoth leads are on the same point.\n")) << text;
}

// Copper at 20 °C has 1/58 Ω·mm2/m (the international annealed copper standard, from memory): 24 m of
// 0.014 mm2 have 29.6 Ω, and with the allowances for length and warmth more than the buzzer's 30.
TEST(ExpectReport, CopperWhoseBeepNothingSettlesIsReadInOhms) {
  const std::string text = expected("1 K1:A1 X1:1.int wire - 24 0.014\n", "K1:A1", "X1:1.int");
  EXPECT_TRUE(has(text, "may beep or not")) << text;
  EXPECT_TRUE(has(text, "Nothing to lift or pull settles that: read it in ohms.\n")) << text;
}

// Five lamps in parallel, each of its own wires: 3 lifts leave two ways.
TEST(ExpectReport, MoreWaysThanLiftsAreTriedSaysSo) {
  std::string panel;
  for (int i = 1; i <= 5; ++i) {
    const std::string n = std::to_string(i);
    panel += "part H" + n + " lamp 1 2\n" + n + " X1:1.int H" + n + ":1\n9" + n + " H" + n + ":2 X2:1.int\n";
  }
  const std::string text = expected(panel, "X1:1.int", "X2:1.int");
  EXPECT_TRUE(
      has(text,
          "Up to 3 lifts or pulls that leave the clamps under the probes alone don't settle that: read it "
          "in\n  ohms, or lift more.\n"))
      << text;
}

TEST(ExpectReport, TemporaryLeadIsNamedOnTheWay) {
  const std::string text =
      expected("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n", "K1:A1", "K2:A1", "X1:1.ext~X1:2.ext=jumpered");
  EXPECT_TRUE(has(text, "Copper joins them:\n")) << text;
  EXPECT_TRUE(has(text, "temporary lead")) << text;
}

// Two ways of copper: either may be broken and the other still beeps. Lifting one of the two proves the
// other.
TEST(ExpectReport, OneLiftMakesABeepProveTheOtherOfTwoWays) {
  const std::string text =
      expected("1 X1:1.int X1:2.int\n2 X1:2.int X1:3.int\n3 X1:1.int X1:4.int\n4 X1:4.int X1:3.int\n",
               "X1:1.int", "X1:3.int");
  EXPECT_TRUE(has(text, "A beep would not show a break of all of it:\n")) << text;
  EXPECT_TRUE(has(text, "For a beep to prove all of it, lift wire ")) << text;
  EXPECT_FALSE(has(text, "Up to 3")) << text;
}

// Five more ways beside the shortest: three lifts leave two of them.
TEST(ExpectReport, WithManyWaysBesideNoThreeLiftsProveOne) {
  std::string panel = "1 X1:1.int X2:1.int\n";
  for (int i = 2; i <= 6; ++i) {
    const std::string n = std::to_string(i);
    panel += n + " X1:1.int X3:" + n + ".int\n9" + n + " X3:" + n + ".int X2:1.int\n";
  }
  const std::string text = expected(panel, "X1:1.int", "X2:1.int");
  EXPECT_TRUE(has(text, "Up to 3 lifts or pulls don't make a beep prove it.\n")) << text;
}

}  // namespace
}  // namespace ringtrue
