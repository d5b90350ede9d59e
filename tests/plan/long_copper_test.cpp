// Wires so long that their own copper may silence the buzzer. IEC 60228 gives 0.5 mm2 at 20 °C at most 40.1
// ohms a km (class 5, metal-coated); the allowances of copper.hpp for length and warmth add a fifth to that.
#include <gtest/gtest.h>

#include "ringtrue/plan/plan.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

struct LongCopper {
  explicit LongCopper(const std::string& text) : net(netlist(text)), graph(net), plan(make_plan(graph)) {}

  [[nodiscard]] std::string proven_by(std::size_t reading) const {
    std::string names;
    for (const ElementId e : plan.readings.at(reading).proves)
      names += (names.empty() ? "" : " ") + std::string(graph.element_name(e));
    return names;
  }

  Netlist net;
  ConductionGraph graph;
  Plan plan;
};

TEST(LongCopper, IsReadInOneGoWhereAllOfItBeepsForCertain) {
  const LongCopper panel("1 K1:A1 K2:A1 wire - 200 0.5\n2 K2:A1 K3:A1 wire - 200 0.5\n");  // 19 ohms in all
  ASSERT_EQ(panel.plan.readings.size(), 1u);
  EXPECT_EQ(panel.proven_by(0), "1 2");
}

TEST(LongCopper, IsReadWireByWireWhereOnlyTheWholeMayBeSilent) {
  const LongCopper panel("1 K1:A1 K2:A1 wire - 400 0.5\n2 K2:A1 K3:A1 wire - 400 0.5\n");  // 19 ohms each
  ASSERT_EQ(panel.plan.readings.size(), 2u);
  EXPECT_EQ(panel.proven_by(0) + ", " + panel.proven_by(1), "1, 2");
  EXPECT_TRUE(panel.plan.not_covered.empty());
}

TEST(LongCopper, IsNotCoveredWhereOneWireAloneMayBeSilent) {
  const LongCopper panel("1 K1:A1 K2:A1 wire - 400 0.5\n2 K2:A1 K3:A1 wire - 2000 0.5\n");  // 95 ohms
  ASSERT_EQ(panel.plan.readings.size(), 1u);
  EXPECT_EQ(panel.proven_by(0), "1");
  ASSERT_EQ(panel.plan.not_covered.size(), 1u);
  EXPECT_EQ(panel.graph.element_name(panel.plan.not_covered.front().element), "2");
  EXPECT_EQ(word(panel.plan.not_covered.front().why), "copper-too-long");
}

}  // namespace
}  // namespace ringtrue::testing
