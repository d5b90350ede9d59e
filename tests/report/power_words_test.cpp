#include "report/power_words.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

TEST(PowerWords, ThreeOrMoreInARowArePutTogether) {
  EXPECT_THAT(report::in_runs({"X2:1", "X2:2", "X2:3", "X2:5", "Q1", "Q2"}),
              ElementsAre("X2:1 up to X2:3", "X2:5", "Q1", "Q2"));
  EXPECT_THAT(report::in_runs({"X2:1.ext", "X2:2.int", "X2:3.ext"}),
              ElementsAre("X2:1.ext", "X2:2.int", "X2:3.ext"));
  EXPECT_THAT(report::in_runs({"A1:0.1", "A1:0.2", "A1:0.3"}), ElementsAre("A1:0.1 up to A1:0.3"));
  EXPECT_THAT(report::in_runs({"X2:1o", "X2:2o", "X2:3o", "PE", ""}),
              ElementsAre("X2:1o", "X2:2o", "X2:3o", "PE", ""));
  EXPECT_THAT(report::in_runs({"X2:08", "X2:09", "X2:10"}), ElementsAre("X2:08", "X2:09", "X2:10"))
      << "a leading zero is part of the name";
  EXPECT_THAT(report::in_runs({"X3:1", "X2:2", "X2:3"}), ElementsAre("X3:1", "X2:2", "X2:3"));
}

TEST(PowerWords, BothSidesOfATerminalAreOneName) {
  const Netlist net = netlist("1 X1:1.int X1:2.int\n2 X1:3.int K1:1\n");
  const auto words = [&](const std::vector<std::string>& names) {
    std::vector<PointId> points;
    for (const std::string& name : names) points.push_back(point(net, name));
    return report::names_in_runs(points, net);
  };
  EXPECT_THAT(words({"X1:1.int", "X1:1.ext", "X1:2.int", "X1:2.ext", "X1:3.int", "X1:3.ext", "K1:1"}),
              ElementsAre("X1:1.int/.ext up to X1:3.int/.ext", "K1:1"));
  EXPECT_THAT(words({"X1:1.ext", "X1:1.int", "X1:2.int"}), ElementsAre("X1:1.ext", "X1:1.int", "X1:2.int"));
}

TEST(PowerWords, OfNothingReadingsShowNothing) {
  const Netlist net = netlist("potential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\npart G1 supply 1 2\n");
  const ConductionGraph graph(net);
  const PowerUp power_up = plan_power_up(graph);
  BeforePower before;
  before.pairs = 1;
  std::string states;
  for (const report::Precondition& each :
       report::preconditions({graph, power_up, &before}, Detail::everything))
    states += std::string(each.id) + " " + std::string(each.state) + "; ";
  EXPECT_THAT(states, HasSubstr("potentials-apart shown"));
  EXPECT_THAT(states, HasSubstr("insulation to-be-seen")) << "no line, so no reading of its insulation";
  EXPECT_THAT(states, HasSubstr("wiring to-be-seen")) << "no copper becomes live";
}

TEST(PowerWords, ASupplyWithoutVoltsSaysWhyNothingIsExpected) {
  const Netlist net =
      netlist("potential +A dc+ G1:1\npotential 0A dc- G1:2\npart G1 supply 1 2\n1 G1:1 K1:1\n");
  const ConductionGraph graph(net);
  const PowerUp power_up = plan_power_up(graph);
  ASSERT_EQ(power_up.steps.size(), 1u);
  EXPECT_THAT(report::step_cautions({graph, power_up, nullptr}, 0, Detail::everything),
              Contains("The drawing states no volts of +A, so none are expected where it leads."));
}

TEST(PowerWords, SourcesThatCopperJoinsAreSaidAtTheStep) {
  const Netlist net = netlist(
      "potential +A dc+ G1:1 24\npotential 0A dc- G1:2 0\npart G1 supply 1 2\npotential +B dc+ G2:1 24\n"
      "potential 0B dc- G2:2 0\npart G2 supply 1 2\npart F1 fuse 1 2\n1 G1:1 F1:1\n2 G2:1 F1:2\n");
  const ConductionGraph graph(net);
  const PowerUp power_up = plan_power_up(graph);
  ASSERT_EQ(power_up.steps.size(), 2u);
  EXPECT_THAT(report::step_cautions({graph, power_up, nullptr}, 1, Detail::everything),
              Contains(HasSubstr("copper joins +A, +B, each from a source of its own")));
}

}  // namespace
}  // namespace ringtrue
