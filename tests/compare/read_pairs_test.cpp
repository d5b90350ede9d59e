#include "ringtrue/compare/read_pairs.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

class ReadPairsTest : public ::testing::Test {
 protected:
  ReadPairsTest() {
    comparison_ = compare(graph_, readings_, {}).value();
    comparison_.standing[2] = Standing::stale;
  }
  [[nodiscard]] PointId at(std::string_view name) const { return find_point(name, net_).value().point; }

  Netlist net_ = netlist(
      "part K1 coil A1 A2\npart K1 contact-no 13 14\npart K2 coil A1 A2\npart K2 contact-no 13 14\n1 K1:A1 "
      "X1:1.int\n2 K2:A1 X1:2.int\n3 K2:A2 X1:3.int\n");
  ConductionGraph graph_{net_};
  Readings readings_ =
      readings("K1:A1 X1:1.int beep\nK1:A1 X1:2.int open K1=operated;K2=operated\nK2:A2 X1:3.int beep\n");
  Comparison comparison_;
};

TEST_F(ReadPairsTest, HoldACurrentPairUnderItsConditionAlone) {
  const ReadPairs pairs(readings_, comparison_);
  EXPECT_TRUE(pairs.holds(at("K1:A1"), at("X1:1.int"), ""));
  EXPECT_TRUE(pairs.holds(at("X1:1.int"), at("K1:A1"), ""));
  EXPECT_FALSE(pairs.holds(at("X1:1.int"), at("K1:A1"), "K1=operated"));
  EXPECT_TRUE(pairs.holds(at("X1:2.int"), at("K1:A1"), "K2=operated; K1=operated"));
  EXPECT_FALSE(pairs.holds(at("X1:2.int"), at("K1:A1"), ""));
  EXPECT_FALSE(pairs.holds(at("K2:A2"), at("X1:3.int"), "")) << "a stale one is to be taken again";
}

TEST_F(ReadPairsTest, APairIsAddedOnce) {
  ReadPairs pairs(readings_, comparison_);
  EXPECT_FALSE(pairs.add(at("X1:1.int"), at("K1:A1"), ""));
  EXPECT_TRUE(pairs.add(at("X1:1.int"), at("K1:A1"), "K9=operated"));
  EXPECT_FALSE(pairs.add(at("K1:A1"), at("X1:1.int"), "K9=operated"));
  EXPECT_TRUE(pairs.holds(at("K1:A1"), at("X1:1.int"), "K9=operated"));
}

}  // namespace
}  // namespace ringtrue
