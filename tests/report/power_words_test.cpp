#include "report/power_words.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using ::testing::ElementsAre;

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

}  // namespace
}  // namespace ringtrue
