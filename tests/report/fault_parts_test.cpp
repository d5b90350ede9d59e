#include "report/report_support.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using Names = std::vector<std::string>;

SmallPanel two_wires() {
  SmallPanel panel;
  panel.wire("1", "K1:A1", "X1:1.int", "3.1")
      .wire("2", "-K2:A1", "-X1:2.int", "3.2")
      .part("K3", "contact-no", "11", "14", "4.1")
      .part("K3", "contact-nc", "11", "12", "4.1");
  return panel;
}

TEST(FaultParts, OpenWireHasItsTwoPointsAsEnds) {
  SmallPanel panel = two_wires();
  const FaultParts parts = fault_parts(fault_at(FaultKind::open, panel.element("2")), panel.graph());
  EXPECT_EQ(parts.elements, Names{"2"});
  EXPECT_EQ(parts.ends, (Names{"K2:A1", "X1:2.int"}));
  EXPECT_EQ(parts.points, Names{});
  ASSERT_EQ(parts.rows.size(), 1u);
  EXPECT_TRUE(parts.rows[0].is_conductor);
  EXPECT_EQ(parts.rows[0].sheet, "3.2");
  EXPECT_EQ(parts.rows[0].file, "conductors.csv");
  EXPECT_EQ(parts.rows[0].line, 3u);
}

TEST(FaultParts, MiswireHasTheDrawnEndAndTheFoundPoint) {
  SmallPanel panel = two_wires();
  const FaultParts parts =
      fault_parts(miswire(panel.element("1"), End::b, panel.point("X1:2.int")), panel.graph());
  EXPECT_EQ(parts.elements, Names{"1"});
  EXPECT_EQ(parts.ends, Names{"X1:1.int"});
  EXPECT_EQ(parts.points, Names{"X1:2.int"});
}

TEST(FaultParts, SwapHasTwoElementsAndTheirDrawnEnds) {
  SmallPanel panel = two_wires();
  const FaultParts parts =
      fault_parts(swap_of(panel.element("1"), End::b, panel.element("2"), End::b), panel.graph());
  EXPECT_EQ(parts.elements, (Names{"1", "2"}));
  EXPECT_EQ(parts.ends, (Names{"X1:1.int", "X1:2.int"}));
  EXPECT_EQ(parts.rows.size(), 2u);
}

TEST(FaultParts, ShortHasOnlyPoints) {
  SmallPanel panel = two_wires();
  const Fault fault = joined(FaultKind::short_circuit, panel.point("K1:A1"), panel.point("X1:2.int"));
  const FaultParts parts = fault_parts(fault, panel.graph());
  EXPECT_EQ(parts.elements, Names{});
  EXPECT_EQ(parts.ends, Names{});
  EXPECT_EQ(parts.points, (Names{"K1:A1", "X1:2.int"}));
  EXPECT_TRUE(parts.rows.empty());
}

TEST(FaultParts, WrongContactOfAChangeoverHasThePartAndBothRows) {
  SmallPanel panel = two_wires();
  const FaultParts parts =
      fault_parts(fault_at(FaultKind::wrong_contact, panel.element("K3:11-12")), panel.graph());
  EXPECT_EQ(parts.elements, Names{"K3"});
  EXPECT_EQ(parts.ends, (Names{"K3:11", "K3:12"}));
  ASSERT_EQ(parts.rows.size(), 2u);
  EXPECT_FALSE(parts.rows[0].is_conductor);
  EXPECT_EQ(parts.rows[0].line, 3u);
  EXPECT_EQ(parts.rows[1].line, 2u);
}

}  // namespace
}  // namespace ringtrue
