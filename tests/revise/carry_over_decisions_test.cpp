#include <gtest/gtest.h>

#include "ringtrue/revise/carry_over.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

constexpr const char* k_panel =
    "4 S1:14 X1:4.int\n5 X1:5.int A1:5\n6 X1:5.int A1:6\npart X1:4 terminal\npart X1:5 terminal\n";

/// Whether a decision of the first of two revisions is outdated in the second.
bool is_outdated(const std::string& finding, const std::string& points, const std::string& later,
                 bool is_as_built = false, const std::string& revision = "1") {
  Decisions decisions;
  decisions.rows.resize(1);
  Decision& decision = decisions.rows.front();
  decision.finding = finding, decision.points = points, decision.revision = revision;
  const Netlist after = netlist(later);
  carry_over({{1, netlist(k_panel), is_as_built}}, ConductionGraph(after), {}, decisions);
  return decision.is_outdated;
}

const std::string k_open_4 = "open wire 4 (S1:14, X1:4.int)", k_clamps = "S1:14; X1:4.int";

TEST(CarryOverDecisions, WhatTouchesNothingOfTheFindingLeavesItsDecision) {
  EXPECT_FALSE(is_outdated(k_open_4, k_clamps, std::string(k_panel) + "7 A1:5 A2:1\n"));
}

TEST(CarryOverDecisions, AClampOpenedByTheRevisionEndsItButNotByADrawingAsBuilt) {
  const std::string later = std::string(k_panel) + "7 X1:4.int A2:1\n";
  EXPECT_TRUE(is_outdated(k_open_4, k_clamps, later));
  EXPECT_FALSE(is_outdated(k_open_4, k_clamps, later, true));
  EXPECT_FALSE(is_outdated(k_open_4, k_clamps, later, false, "2")) << "it is of the later one";
}

TEST(CarryOverDecisions, ANameThatIsAnothersNowEndsItByADrawingAsBuiltToo) {
  // X1 goes by X7 now; a wire of the same number to a strip of the name X1 would be another one.
  const std::string later =
      "4 S1:14 X7:4.int\n5 X7:5.int A1:5\n6 X7:5.int A1:6\npart X7:4 terminal\npart X7:5 terminal\n";
  EXPECT_TRUE(is_outdated(k_open_4, k_clamps, later));
  EXPECT_TRUE(is_outdated(k_open_4, k_clamps, later, true));
  EXPECT_FALSE(is_outdated("short A1:5 and A1:6", "", later));
}

TEST(CarryOverDecisions, ANumberThatIsAnothersNowEndsIt) {
  const std::string later =
      "4 S1:14 X1:4.int\n6 X1:5.int A1:5\n5 X1:5.int A1:6\npart X1:4 terminal\npart X1:5 terminal\n";
  EXPECT_TRUE(is_outdated("miswire wire 5 X1:5.int to X1:4.int", "X1:5.int; X1:4.int", later));
  EXPECT_FALSE(is_outdated(k_open_4, k_clamps, later));
}

}  // namespace
}  // namespace ringtrue::testing
