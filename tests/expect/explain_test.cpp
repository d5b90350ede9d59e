#include "ringtrue/expect/explain.hpp"
#include "ringtrue/expect/openers.hpp"

#include <gtest/gtest.h>

#include <random>
#include <set>

#include "expect/steps.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_meter.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using testing::point;

class Explaining : public ::testing::Test {
 protected:
  void panel(const std::string& text) {
    net_ = testing::netlist(text);
    graph_ = std::make_unique<ConductionGraph>(net_);
  }
  Expectation expectation(const std::string& from, const std::string& to, const std::string& when = "") {
    Probing probing;
    probing.from = point(net_, from), probing.to = point(net_, to);
    return explain(*graph_, probing, when).value();
  }
  std::vector<std::string> names(const std::vector<ElementId>& elements) const {
    std::vector<std::string> all;
    for (const ElementId e : elements) all.push_back(graph_->element_name(e));
    return all;
  }
  std::vector<std::string> names(const Way& way) const {
    std::vector<std::string> all;
    for (const View::Edge& edge : way.edges)
      all.push_back(edge.element == ElementId::none ? "" : graph_->element_name(edge.element));
    return all;
  }
  using Names = std::vector<std::string>;
  Netlist net_;
  std::unique_ptr<ConductionGraph> graph_;
};

TEST_F(Explaining, CopperIsToldElementByElement) {
  panel("1 K1:A1 X1:1.int\n2 X1:1.ext K2:A1\n");
  const Expectation made = expectation("K1:A1", "K2:A1");
  EXPECT_EQ(made.buzzer, Buzzer::beeps);
  ASSERT_EQ(made.ways.size(), 1u);
  EXPECT_TRUE(made.ways.front().is_copper);
  EXPECT_EQ(names(made.ways.front()), (Names{"1", "X1:1", "2"}));
  EXPECT_TRUE(made.hidden.empty());
  EXPECT_FALSE(made.steps);
}

TEST_F(Explaining, ARingHidesABreakUntilAnEndIsLifted) {
  panel("1 K1:A2 K2:A2\n2 K2:A2 K3:A2\n3 K3:A2 K1:A2\n");
  const Expectation made = expectation("K1:A2", "K2:A2");
  EXPECT_EQ(made.buzzer, Buzzer::beeps);
  ASSERT_EQ(made.hidden.size(), 1u);
  EXPECT_EQ(names(made.hidden.front().elements), (Names{"1"}));
  EXPECT_EQ(names(made.hidden.front().second), (Names{"3", "2"}));
  ASSERT_TRUE(made.steps);
  EXPECT_EQ(made.steps->settings, (Names{"2@K3:A2=lifted"})) << "not the clamps under the probes";
}

TEST_F(Explaining, ACoilThatMayBeepIsNamedAndPulled) {
  panel("part K1 coil A1 A2 25\n1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n");
  const Expectation made = expectation("X1:1.int", "X1:2.int");
  EXPECT_EQ(made.buzzer, Buzzer::beeps) << "22.5 to 27.5 ohms and two wires";
  panel("part K1 coil A1 A2 30\n1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n");
  const Expectation either = expectation("X1:1.int", "X1:2.int");
  EXPECT_EQ(either.buzzer, Buzzer::either);
  EXPECT_EQ(names(either.causes), (Names{"K1:A1-A2"}));
  ASSERT_TRUE(either.steps);
  EXPECT_EQ(either.steps->settings, (Names{"K1=unplugged"})) << "rather than a lift";
  EXPECT_EQ(either.after_steps, Buzzer::silent);
}

TEST_F(Explaining, TwoCoilsInParallelAreTwoWays) {
  panel("part K1 coil A1 A2 650\npart K2 coil A1 A2 650\n1 K1:A1 K2:A1\n2 K1:A2 K2:A2\n");
  const Expectation made = expectation("K1:A1", "K1:A2");
  EXPECT_NEAR(made.ohms.lo.value, 292.5, 1e-6) << "half of 585";
  EXPECT_EQ(made.buzzer, Buzzer::silent);
  ASSERT_EQ(made.ways.size(), 2u);
  EXPECT_FALSE(made.has_more_ways);
}

TEST_F(Explaining, AFreewheelDiodeConductsOneWayRound) {
  panel("part K1 coil A1 A2 115\npart V1 diode A K\n1 V1:K K1:A1\n2 V1:A K1:A2\n");
  const Expectation blocked = expectation("K1:A1", "K1:A2");
  EXPECT_NEAR(blocked.ohms.lo.value, 103.5, 1e-6);
  EXPECT_EQ(blocked.buzzer, Buzzer::silent);
  const Expectation forward = expectation("K1:A2", "K1:A1");
  EXPECT_LT(forward.ohms.lo.value, 1e-3);
  EXPECT_EQ(forward.buzzer, Buzzer::either);
  EXPECT_EQ(names(forward.causes), (Names{"V1:A-K"}));
  ASSERT_TRUE(forward.steps);
  EXPECT_EQ(forward.steps->settings.size(), 1u);
}

TEST_F(Explaining, ADiodeInSeriesBlocksForCertain) {
  panel("part V1 diode A K\npart V2 diode A K\n1 K1:13 V1:A\n2 V1:K V2:A\n3 V2:K K2:13\n");
  EXPECT_EQ(expectation("K1:13", "K2:13").buzzer, Buzzer::either);
  EXPECT_TRUE(expectation("K2:13", "K1:13").ohms.is_open());
}

TEST_F(Explaining, FourHundredBridgesStillBeepButReadInOhms) {
  std::string text;
  for (int i = 1; i <= 400; ++i)
    text += "- X1:" + std::to_string(i) + ".int X1:" + std::to_string(i + 1) + ".int bridge\n";
  panel(text);
  const Expectation made = expectation("X1:1.int", "X1:401.int");
  EXPECT_EQ(made.buzzer, Buzzer::beeps);
  EXPECT_NEAR(made.ohms.hi.value, 40, 1e-6) << "400 joints of up to 0.1 ohms";
  EXPECT_NEAR(made.to_buzzer.hi.value, 5, 1e-6);
}

TEST_F(Explaining, CopperGoesBeforeADiodeThatMayHaveLess) {
  panel("part V1 diode A K\npart F1 fuse 1 2 4\n1 V1:A F1:1\n2 V1:K F1:2\n");
  const Expectation made = expectation("V1:A", "V1:K");
  ASSERT_EQ(made.ways.size(), 1u);
  EXPECT_TRUE(made.ways.front().is_copper);
  ASSERT_EQ(made.hidden.size(), 1u) << "the diode may beep past a break of any of the three";
  EXPECT_EQ(names(made.hidden.front().elements), (Names{"1", "F1:1-2", "2"}));
  EXPECT_FALSE(made.hidden.front().second.is_copper);
}

TEST_F(Explaining, ALongRingIsOneHiddenBreak) {
  std::string text;
  for (int i = 0; i < 2000; ++i)
    text += std::to_string(i) + " K" + std::to_string(i) + ":A2 K" + std::to_string((i + 1) % 2000) + ":A2\n";
  panel(text);
  const Expectation made = expectation("K0:A2", "K900:A2");
  ASSERT_EQ(made.hidden.size(), 1u);
  EXPECT_EQ(made.hidden.front().elements.size(), 900u);
  ASSERT_TRUE(made.steps);
  EXPECT_EQ(made.steps->settings.size(), 1u);
}

TEST_F(Explaining, NothingBetweenIsOpen) {
  panel("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n");
  const Expectation made = expectation("K1:A1", "K2:A1");
  EXPECT_TRUE(made.ohms.is_open());
  EXPECT_EQ(made.buzzer, Buzzer::silent);
  EXPECT_TRUE(made.ways.empty());
}

TEST_F(Explaining, StepsAddToTheConditionAsked) {
  panel("part K1 coil A1 A2 30\npart K2 coil A1 A2 30\n1 K1:A1 K2:A1\n2 K1:A2 K2:A2\n");
  const Expectation at_rest = expectation("K1:A1", "K1:A2");
  EXPECT_EQ(at_rest.buzzer, Buzzer::beeps) << "15 ohms";
  const Expectation one_out = expectation("K1:A1", "K1:A2", "K2=unplugged");
  EXPECT_EQ(one_out.buzzer, Buzzer::either);
  ASSERT_TRUE(one_out.steps);
  EXPECT_EQ(one_out.steps->settings, (Names{"K1=unplugged"}));
}

/// What a buzzer does with further settings; nothing where they contradict each other.
std::optional<Buzzer> buzzer_with(const Asked& asked, const std::vector<std::string>& settings) {
  std::optional<Buzzer> buzzer;
  (void)asked.with(settings, [&](const View& view, const Probing& probing) {
    buzzer = buzzer_on(expected_resistance(view, probing, Counting::limited), Ohms{30});
  });
  return buzzer;
}

/// The fewest settings, up to two, that settle a reading, by trying all.
std::size_t fewest_by_trying_all(const Asked& asked, const std::vector<std::string>& settings) {
  const auto settles = [&](std::vector<std::string> some) {
    const auto buzzer = buzzer_with(asked, some);
    return buzzer && *buzzer != Buzzer::either;
  };
  for (const std::string& one : settings)
    if (settles({one})) return 1;
  for (const std::string& one : settings)
    for (const std::string& two : settings)
      if (one < two && settles({one, two})) return 2;
  return 3;
}

TEST(Steps, AreTheFewestOnRandomPanels) {
  const unsigned base = testing::test_seed() * 10'000;
  std::size_t settled_by[4] = {};
  for (unsigned panel = 0; panel < 700; ++panel) {
    // Two cold lamps side by side, so that one step is often not enough.
    const std::string text = testing::random_panel_with_loads(base + panel) +
                             "part P2 lamp x1 x2 57\npart P3 lamp x1 x2 57\n80 P2:x1 K1:A1\n81 P2:x2 "
                             "X1:2.int\n82 P3:x1 K1:A1\n83 P3:x2 A1:M\n";
    const Netlist net = testing::netlist(text);
    const ConductionGraph graph(net);
    std::mt19937 random(base + panel);
    for (int i = 0; i < 4; ++i) {
      Probing probing;
      probing.from = PointId{static_cast<std::uint32_t>(random() % graph.point_count())};
      probing.to = PointId{static_cast<std::uint32_t>(random() % graph.point_count())};
      if (probing.from == probing.to) continue;
      const Expectation made = explain(graph, probing, "").value();
      if (made.buzzer != Buzzer::either) continue;
      const Asked asked(graph, probing, "");
      const PointId near[] = {probing.from, probing.to};
      std::set<std::string> all;
      for (std::uint32_t e = 0; e < graph.element_count(); ++e)
        for (std::string& setting : settings_that_open(ElementId{e}, graph, near))
          all.insert(std::move(setting));
      const std::size_t fewest = fewest_by_trying_all(asked, {all.begin(), all.end()});
      const std::size_t found = made.steps ? made.steps->settings.size() : 3;
      ASSERT_EQ(std::min<std::size_t>(found, 3), fewest)
          << text << net.points.name(probing.from) << " to " << net.points.name(probing.to);
      if (made.steps) {
        ASSERT_EQ(buzzer_with(asked, made.steps->settings), made.after_steps);
        ASSERT_NE(made.after_steps, Buzzer::either);
      }
      ++settled_by[fewest];
    }
  }
  std::printf("settled by one step %zu, by two %zu, by more or not %zu\n", settled_by[1], settled_by[2],
              settled_by[3]);
  EXPECT_GT(settled_by[1], 50u);
  EXPECT_GT(settled_by[2], 20u);
}

}  // namespace
}  // namespace ringtrue
