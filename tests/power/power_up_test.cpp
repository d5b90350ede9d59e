#include "ringtrue/power/power_up.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// Mains by a main switch to a supply, its plus by two fuses; a module on the first.
constexpr const char* k_panel =
    "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\n"
    "part Q0 isolator 1 2\npart F1 fuse 1 2\npart F2 fuse 1 2\npart G1 input 3 4\npart G1 supply 1 2\n"
    "potential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\npart A1 electronics L M\n"
    "1 X0:1.int Q0:1\n2 Q0:2 G1:3\n3 X0:2.int G1:4\n4 G1:1 F1:1\n5 F1:1 F2:1\n6 F1:2 A1:L\n7 G1:2 A1:M\n";

class PoweringUp : public ::testing::Test {
 protected:
  const PowerUp& plan(const std::string& rows) {
    net_ = std::make_unique<Netlist>(netlist(rows));
    graph_ = std::make_unique<ConductionGraph>(*net_);
    plan_ = plan_power_up(*graph_);
    return plan_;
  }

  /// `supply-on Q0 F1 ...`
  [[nodiscard]] std::string order() const {
    std::string text;
    for (const PowerStep& step : plan_.steps)
      text += (text.empty() ? "" : " ") +
              std::string(step.action == PowerAction::close ? step.device : word(step.action));
    return text;
  }

  /// `G1:1-G1:2 24` and what else a step measures; AC with `~`, loads in brackets.
  [[nodiscard]] std::string measured(std::size_t step) const { return listed(plan_.steps[step].readings); }
  [[nodiscard]] std::string pins(std::size_t step) const { return listed(plan_.steps[step].pins); }
  [[nodiscard]] std::string listed(const std::vector<ExpectedVolts>& all) const {
    std::string text;
    for (const ExpectedVolts& each : all) {
      text += (text.empty() ? "" : ", ") + name(each.red) + "-" + name(each.black) + " " +
              std::to_string(std::lround(each.volts)) + (each.alternating ? "~" : "");
      for (const ElementId e : each.through) text += " [" + graph_->element_name(e) + "]";
    }
    return text;
  }
  [[nodiscard]] std::string zeros(std::size_t step) const {
    std::string text;
    for (const MustBeZero& zero : plan_.steps[step].zeros)
      text += (text.empty() ? "" : ", ") + name(zero.red) + "-" + name(zero.black);
    return text;
  }
  [[nodiscard]] std::string name(PointId p) const { return net_->points.name(p); }

  std::unique_ptr<Netlist> net_;
  std::unique_ptr<ConductionGraph> graph_;
  PowerUp plan_;
};

TEST_F(PoweringUp, TheIncomerFirstThenOneBranchAtATime) {
  plan(k_panel);
  EXPECT_EQ(order(), "supply-on Q0 F1 F2");
  EXPECT_EQ(measured(0), "X0:1.ext-X0:2.ext 230~");
  EXPECT_EQ(zeros(0), "Q0:2-X0:2.ext, G1:1-G1:2");
  EXPECT_EQ(measured(1), "Q0:2-X0:2.ext 230~, G1:1-G1:2 24");
  EXPECT_EQ(zeros(1), "F1:2-G1:2, F2:2-G1:2");
  EXPECT_EQ(measured(2), "F1:2-G1:2 24");
  EXPECT_EQ(zeros(2), "F2:2-G1:2");
  EXPECT_EQ(zeros(3), "");
}

TEST_F(PoweringUp, ABranchIsFollowedToItsEndBeforeTheNext) {
  plan(
      "potential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\npart G1 input 3 4\npart G1 supply 1 2\n"
      "part F1 fuse 1 2\npart F2 fuse 1 2\npart F3 fuse 1 2\n1 G1:1 F1:1\n2 G1:1 F2:1\n3 F1:2 F3:1\n");
  EXPECT_EQ(order(), "supply-on F1 F3 F2");
}

TEST_F(PoweringUp, OfWhatIsFedAlikeIsolatorsComeBeforeBreakersBeforeFuses) {
  plan(
      "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\n"
      "part F1 fuse 1 2\npart Q2 breaker 1 2\npart Q1 isolator 1 2\n"
      "1 X0:1.int F1:1\n2 F1:1 Q2:1\n3 Q2:1 Q1:1\n");
  EXPECT_EQ(order(), "supply-on Q1 Q2 F1");
}

TEST_F(PoweringUp, ASupplyFedThroughALoadIsNotTakenToRun) {
  plan(
      "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\npart P1 lamp 1 2 480\n"
      "part G1 input 3 4\npart G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
      "1 X0:1.int P1:1\n2 P1:2 G1:3\n3 X0:2.int G1:4\n");
  EXPECT_EQ(measured(0), "X0:1.ext-X0:2.ext 230~");
  EXPECT_EQ(zeros(0), "") << "it may run";
}

TEST_F(PoweringUp, ASupplyWithoutIncomingRowIsLiveWithTheMainSwitchOff) {
  plan(std::string(k_panel) +
       "part G9 supply 1 2\npotential +24V9 dc+ G9:1 24\npotential 0V9 dc- G9:2 0\n8 G9:1 X9:1.int\n");
  EXPECT_EQ(order(), "always-live supply-on Q0 F1 F2");
  EXPECT_EQ(measured(0), "G9:1-G9:2 24");
}

TEST_F(PoweringUp, ElectronicsAreMeasuredWithPolarityBeforeTheyArePluggedIn) {
  plan(k_panel);
  EXPECT_EQ(pins(2), "A1:L-A1:M 24");
  ASSERT_EQ(plan_.plug_ins.size(), 1u);
  EXPECT_EQ(plan_.plug_ins[0].after_step, 2u);
  EXPECT_EQ(listed(plan_.plug_ins[0].pins), "A1:L-A1:M 24");
}

TEST_F(PoweringUp, AModuleWaitsForAllItsPins) {
  plan(std::string(k_panel) +
       "part A1 electronics L2 M\npart A1 electronics L3 M\n8 F2:2 A1:L2\n"
       "part K1 contact-no 1 2\n9 F1:2 K1:1\n10 K1:2 A1:L3\n");
  EXPECT_EQ(pins(2), "A1:L-A1:M 24");
  EXPECT_EQ(pins(3), "A1:L2-A1:M 24");
  ASSERT_EQ(plan_.plug_ins.size(), 1u);
  EXPECT_EQ(plan_.plug_ins[0].after_step, 3u);
  ASSERT_EQ(plan_.plug_ins[0].not_stated.size(), 1u);
  EXPECT_EQ(name(plan_.plug_ins[0].not_stated[0]), "A1:L3") << "nothing feeds it at rest";
}

TEST_F(PoweringUp, AModuleThatHasOnlyAMinusShowsItFromThePlus) {
  plan(std::string(k_panel) + "8 G1:2 A2:C\n9 X3:1.int A2:0\nchannel A2:0 DI X3:1.ext - A2:C\n");
  EXPECT_EQ(pins(1), "G1:1-A2:C 24");
  ASSERT_EQ(plan_.plug_ins.size(), 2u);
  EXPECT_EQ(plan_.plug_ins[0].part, "A2");
  EXPECT_EQ(plan_.plug_ins[0].after_step, 1u);
}

TEST_F(PoweringUp, ALoadLeadsTheVoltageOnAndSaysSo) {
  plan(std::string(k_panel) + "part K1 coil A1 A2 350\n8 F1:2 K1:A1\n9 K1:A2 X5:1.int\n");
  EXPECT_EQ(measured(2), "F1:2-G1:2 24, K1:A2-G1:2 24 [K1:A1-A2]");
  plan(std::string(k_panel) + "part R1 resistor 1 2 47000\n8 F1:2 R1:1\n9 R1:2 X5:1.int\n");
  EXPECT_EQ(measured(2), "F1:2-G1:2 24") << "a meter would load it";
}

TEST_F(PoweringUp, BetweenTwoPotentialsNothingIsStated) {
  plan(std::string(k_panel) +
       "part K1 coil A1 A2 350\npart K2 coil A1 A2 350\n8 F1:2 K1:A1\n9 K1:A2 K2:A1\n10 K2:A2 G1:2\n");
  EXPECT_EQ(measured(2), "F1:2-G1:2 24");
}

TEST_F(PoweringUp, BehindTheContactOfARelayThatMayPullNothingIsStated) {
  plan(std::string(k_panel) +
       "part K1 coil A1 A2 350\npart K1 contact-no 13 14\npart K1 contact-nc 21 22\n"
       "8 F1:2 K1:A1\n9 G1:2 K1:A2\n10 F1:2 K1:13\n11 F1:2 K1:21\n12 K1:14 X5:1.int\n13 K1:22 X5:2.int\n");
  EXPECT_EQ(measured(2), "F1:2-G1:2 24");
  EXPECT_EQ(plan_.steps[2].may_pull, std::vector<std::string_view>{"K1"});
  EXPECT_EQ(zeros(2), "F2:2-G1:2");
}

TEST_F(PoweringUp, ASecondIncomingSupplyIsNeverToReadZeroAndClosingItsBreakerSaysWhatItJoins) {
  plan(
      "potential L1 ac-line X0:1.ext 230\npotential L1B ac-line X0:2.ext 230\n"
      "potential N ac-neutral X0:3.ext 0\npart Q1 breaker 1 2\npart Q2 breaker 1 2\n"
      "part G1 input 3 4\npart G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
      "1 X0:1.int Q1:1\n2 X0:2.int Q2:1\n3 Q1:2 Q2:2\n4 Q1:2 G1:3\n5 X0:3.int G1:4\n");
  ASSERT_EQ(order(), "supply-on Q1 Q2");
  EXPECT_EQ(measured(0), "X0:1.ext-X0:3.ext 230~, X0:2.ext-X0:3.ext 230~");
  EXPECT_EQ(measured(1), "Q1:2-X0:3.ext 230~, G1:1-G1:2 24");
  EXPECT_EQ(zeros(1), "");
  EXPECT_TRUE(plan_.steps[1].joins.empty());
  EXPECT_EQ(plan_.steps[2].joins, (std::vector<std::uint32_t>{0, 1}));
  EXPECT_EQ(measured(2), "");
  EXPECT_TRUE(plan_.never_live.empty());
}

TEST_F(PoweringUp, ASupplyBesideABatteryIsSaidWhereItStarts) {
  plan(
      "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\npart Q1 breaker 1 2\n"
      "part G1 input 3 4\npart G1 supply 1 2\npotential +A dc+ G1:1 24\npotential 0A dc- G1:2 0\n"
      "part G2 supply 1 2\npotential +B dc+ G2:1 24\npotential 0B dc- G2:2 0\npart F1 fuse 1 2\n"
      "1 X0:1.int Q1:1\n2 Q1:2 G1:3\n3 X0:2.int G1:4\n4 G1:1 G2:1\n5 G1:2 G2:2\n6 G2:1 F1:1\n");
  ASSERT_EQ(order(), "always-live supply-on Q1 F1");
  for (const std::size_t step : {0u, 1u, 3u}) EXPECT_TRUE(plan_.steps[step].joins.empty()) << step;
  EXPECT_EQ(plan_.steps[2].joins, (std::vector<std::uint32_t>{2, 4}));
}

TEST_F(PoweringUp, ContactsAreAtRestUntilTheirCoilIsFed) {
  plan(std::string(k_panel) +
       "part K1 coil A1 A2 350\npart K1 contact-no 13 14\npart K1 contact-nc 21 22\n"
       "10 F1:2 K1:13\n11 F1:2 K1:21\n12 K1:14 F2:2\n");
  EXPECT_EQ(plan_.steps[2].readings[0].also.size(), 3u) << "F1:2, A1:L is a pin; K1:13, K1:21, K1:22";
  EXPECT_EQ(zeros(2), "F2:2-G1:2") << "the open contact feeds nothing";
}

TEST_F(PoweringUp, BehindAnOpenContactZeroIsAskedForAsSoonAsItIsFed) {
  plan(std::string(k_panel) +
       "part K1 contact-no 1 2\npart S1 contact-nc 1 2\n8 F1:2 K1:1\n9 K1:2 X5:1.int\n"
       "10 F1:2 S1:1\n");
  EXPECT_EQ(zeros(2), "F2:2-G1:2, K1:2-G1:2");
  EXPECT_EQ(zeros(3), "") << "once";
}

TEST_F(PoweringUp, AnInputsFieldTerminalStaysAtZeroWithoutItsDevice) {
  plan(std::string(k_panel) + "8 F1:2 X1:1.int\n9 X3:1.int A1:0\nchannel A1:0 DI X3:1.ext X1:1.ext A1:M\n");
  EXPECT_EQ(zeros(2), "F2:2-G1:2, X3:1.ext-G1:2");
}

TEST_F(PoweringUp, ThreeEqualLinesHaveTheSquareRootOfThreeBetweenThem) {
  const std::string lines =
      "potential L1 ac-line X0:1.ext 230\npotential L2 ac-line X0:2.ext 230\npotential N ac-neutral X0:4.ext "
      "0\n"
      "part Q0 isolator 1 2\npart Q0 isolator 3 4\n1 X0:1.int Q0:1\n2 X0:2.int Q0:3\n";
  plan(lines + "potential L3 ac-line X0:3.ext 230\n");
  EXPECT_EQ(measured(0),
            "X0:1.ext-X0:4.ext 230~, X0:2.ext-X0:4.ext 230~, X0:3.ext-X0:4.ext 230~, "
            "X0:1.ext-X0:2.ext 398~, X0:1.ext-X0:3.ext 398~, X0:2.ext-X0:3.ext 398~");
  plan(lines);
  EXPECT_EQ(measured(0), "X0:1.ext-X0:4.ext 230~, X0:2.ext-X0:4.ext 230~")
      << "two lines may be 120 or 180 degrees apart";
  plan(lines + "potential L3 ac-line X0:3.ext 208\n");
  EXPECT_EQ(plan_.steps[0].readings.size(), 3u) << "unequal lines are no balanced system";
}

TEST_F(PoweringUp, OfASupplyWithoutVoltsNothingIsStated) {
  plan("part G1 supply 1 2\npotential P dc+ G1:1\npotential M dc- G1:2 0\n1 G1:1 X1:1.int\n");
  EXPECT_EQ(measured(0), "");
}

TEST_F(PoweringUp, WhatNothingFeedsAtRestIsClosedLastAndSaid) {
  plan(std::string(k_panel) + "part Q9 breaker 1 2\npart K1 contact-no 1 2\n8 Q0:2 K1:1\n9 K1:2 Q9:1\n");
  EXPECT_EQ(order(), "supply-on Q0 F1 F2 Q9");
  EXPECT_FALSE(plan_.steps.back().is_fed);
  plan(
      "part G1 input 3 4\npart G1 supply 1 2\npart K1 contact-no 1 2\npotential L1 ac-line X0:1.ext 230\n"
      "potential N ac-neutral X0:2.ext 0\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
      "1 X0:1.int K1:1\n2 K1:2 G1:3\n3 X0:2.int G1:4\n");
  ASSERT_EQ(plan_.never_live.size(), 1u);
  EXPECT_EQ(net_->potentials[plan_.never_live[0]].name, "+24V");
}

}  // namespace
}  // namespace ringtrue
