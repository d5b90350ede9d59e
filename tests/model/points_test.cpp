#include "ringtrue/model/points.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

const Designation k_gd1{"GD1", "A"};

std::string canonical(std::string_view text, const Designation& panel = k_gd1) {
  std::string storage;
  const PointName name = split_point_name(text, panel, storage);
  const char* side = name.side == Side::internal ? " int" : name.side == Side::external ? " ext" : "";
  return std::string(name.place) + side;
}

TEST(PointNames, ThePanelsOwnAspectsAndTheProductSignMayBeLeftOut) {
  for (const char* same : {"X1:5", "-X1:5", "=GD1+A-X1:5", "=GD1-X1:5", "+A-X1:5"})
    EXPECT_EQ(canonical(same), "X1:5") << same;
}

TEST(PointNames, AnotherLocationIsAnotherStrip) {
  EXPECT_EQ(canonical("+B-X1:5"), "=GD1+B-X1:5");
  EXPECT_EQ(canonical("=GD1+B-X1:5"), "=GD1+B-X1:5");
  EXPECT_EQ(canonical("=GD2-X1:5"), "=GD2+A-X1:5");
}

TEST(PointNames, OnlyIntAndExtAreSides) {
  EXPECT_EQ(canonical("X1:5.int"), "X1:5 int");
  EXPECT_EQ(canonical("=GD1+A-X1:5.ext"), "X1:5 ext");
  EXPECT_EQ(canonical("A1:0.3"), "A1:0.3");
  EXPECT_EQ(canonical("X1:5.left"), "X1:5.left");
}

TEST(PointNames, PartAndPinAreDividedAtTheLastColon) {
  EXPECT_EQ(part_of_place("=GD2+B-K5:13"), "=GD2+B-K5");
  EXPECT_EQ(pin_of_place("=GD2+B-K5:13"), "13");
  EXPECT_EQ(part_of_place("PE"), "PE");
  EXPECT_EQ(pin_of_place("PE"), "");
}

}  // namespace
}  // namespace ringtrue
