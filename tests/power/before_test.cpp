#include "ringtrue/power/before.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// One line with a breaker, a supply behind it with a fuse, a module, earth on the supply's case.
constexpr const char* k_panel =
    "potential L1 ac-line X0:1.ext 230\npotential N ac-neutral X0:2.ext 0\npotential PE pe PE\n"
    "part X0:3 pe-terminal\npart Q1 breaker 1 2\npart G1 input 3 4\npart G1 supply 1 2\npart F1 fuse 1 2\n"
    "potential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\npart A1 electronics L M\n"
    "1 X0:1.int Q1:1\n2 Q1:2 G1:3\n3 X0:2.int G1:4\n4 X0:3.int G1:5\n5 G1:1 F1:1\n6 F1:2 A1:L\n7 G1:2 A1:M\n";

class Before : public ::testing::Test {
 protected:
  Before() : net_(netlist(k_panel)), graph_(net_) {}

  const BeforePower& of(const std::string& taken) {
    const Readings rows = readings(taken);
    const Comparison comparison = compare(graph_, rows, {}).value();
    const Findings findings = diagnose(graph_, rows, comparison);
    found_ = before_power(graph_, plan_power_up(graph_), rows, comparison, findings, {});
    return found_;
  }
  /// `L1 to PE` among the pairs of which nothing shows that they are apart.
  [[nodiscard]] bool is_apart(std::string_view one, std::string_view other) const {
    for (const auto& [a, b] : found_.not_shown_apart) {
      const auto is = [&](std::uint32_t i, std::string_view name) { return net_.potentials[i].name == name; };
      if ((is(a, one) && is(b, other)) || (is(a, other) && is(b, one))) return false;
    }
    return true;
  }
  /// Steps as `1: 5 6`, those without unproven copper left out.
  [[nodiscard]] std::string unproven() const {
    std::string text;
    for (std::size_t i = 0; i < found_.unproven_live.size(); ++i) {
      if (found_.unproven_live[i].empty()) continue;
      text += (text.empty() ? "" : "; ") + std::to_string(i) + ":";
      for (const ElementId e : found_.unproven_live[i]) text += " " + graph_.element_name(e);
    }
    return text;
  }

  Netlist net_;
  ConductionGraph graph_;
  BeforePower found_;
};

TEST_F(Before, ReadingsAboveTheThresholdShowTwoPotentialsApart) {
  EXPECT_EQ(of("").not_shown_apart.size(), 10u);
  of("G1:1 G1:2 open\nX0:1.ext PE 4k\nX0:2.ext PE OL\nG1:1 PE beep\n");
  EXPECT_TRUE(is_apart("+24V", "0V"));
  EXPECT_TRUE(is_apart("N", "PE"));
  EXPECT_FALSE(is_apart("+24V", "PE")) << "a beep shows the contrary";
  EXPECT_FALSE(is_apart("L1", "PE")) << "what contradicts the drawing shows nothing";
  EXPECT_FALSE(is_apart("L1", "N"));
}

TEST_F(Before, AReadingWithAFuseOutLeavesOutWhatLiesBehind) {
  of("G1:1 G1:2 open F1=out\n");
  EXPECT_FALSE(is_apart("+24V", "0V"));
  of("G1:1 G1:2 open Q1=off\n");
  EXPECT_TRUE(is_apart("+24V", "0V")) << "the breaker is on another circuit";
}

TEST_F(Before, InsulationNeedsAMegohmTheMethodAndTheElectronicsUnplugged) {
  const auto is_insulated = [&](const std::string& reading) { return of(reading).not_insulated.empty(); };
  EXPECT_TRUE(is_insulated("X0:1.ext PE 200M A1=unplugged - insulation\n"));
  EXPECT_TRUE(is_insulated("PE X0:1.ext OL A1=unplugged - insulation\n"));
  EXPECT_FALSE(is_insulated("X0:1.ext PE 0.5M A1=unplugged - insulation\n"));
  EXPECT_FALSE(is_insulated("X0:1.ext PE 200M - - insulation\n"));
  EXPECT_FALSE(is_insulated("X0:1.ext PE OL A1=unplugged\n"));
  EXPECT_FALSE(is_insulated("X0:2.ext PE OL A1=unplugged - insulation\n"));
  EXPECT_FALSE(is_insulated("X0:1.ext PE OL A1=unplugged;Q1=off - insulation\n"));
}

TEST_F(Before, TheProtectiveConductorIsProvenElementByElement) {
  EXPECT_TRUE(of("").has_earth);
  EXPECT_EQ(found_.protective, found_.unproven_protective.size());
  EXPECT_LT(of("X0:3.int G1:5 beep\n").unproven_protective.size(), found_.protective);
}

TEST_F(Before, CopperThatBecomesLiveIsSaidInItsStep) {
  of("");
  EXPECT_EQ(unproven(), "0: 1 X0:1; 1: 2 5 Q1:1-2; 2: 6 F1:1-2");
  EXPECT_EQ(found_.live, 7u);
  of("X0:1.ext Q1:1 beep\nQ1:2 G1:3 beep\n");
  EXPECT_EQ(unproven(), "1: 5 Q1:1-2; 2: 6 F1:1-2");
  EXPECT_FALSE(found_.nothing_stands_against());
}

}  // namespace
}  // namespace ringtrue
