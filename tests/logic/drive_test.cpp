#include <gtest/gtest.h>

#include <algorithm>

#include "ringtrue/logic/drive.hpp"
#include "tests/logic/panel.hpp"

namespace ringtrue::logic {
namespace {

class DriveLogic : public testing::Test {
 protected:
  Drive drive(const std::string& text, const DriveLimits& limits = {}) {
    const auto program = parse_logic(text, "p.st", panel_);
    EXPECT_TRUE(program) << (program ? "" : to_text(program.error().front()));
    return drive_output(*program, k_lamp, graph_, limits);
  }
  static std::optional<NoPair> cause(const Drive& drive, std::uint32_t variable) {
    for (const Unpaired& unpaired : drive.unpaired)
      if (unpaired.variable == variable) return unpaired.cause;
    return std::nullopt;
  }
  /// Input states `ABC` of both members of a variable's pair.
  static std::pair<std::string, std::string> pair_of(const Drive& drive, std::uint32_t variable) {
    for (const Pair& pair : drive.pairs)
      if (pair.variable == variable)
        return std::minmax(text(pair.first.front().choice), text(pair.second.front().choice));
    return {};
  }
  static std::string text(const Choice& choice) {
    std::string digits;
    for (const std::uint8_t option : choice) digits += static_cast<char>('0' + option);
    return digits;
  }

  Netlist panel_ = logic_panel();
  ConductionGraph graph_{panel_};
};

TEST_F(DriveLogic, OneInputStateTurnsOnAndTheNextOff) {
  const Drive found = drive("LAMP := A AND B;");
  ASSERT_EQ(found.verdict, DriveVerdict::drivable);
  ASSERT_EQ(found.steps.size(), 3u);
  EXPECT_FALSE(found.steps[0].is_on);
  EXPECT_EQ(text(found.steps[1].choice), "11");
  EXPECT_TRUE(found.steps[1].is_on);
  EXPECT_FALSE(found.steps[2].is_on);
  EXPECT_TRUE(found.steps[2].choice != found.steps[1].choice);
}

TEST_F(DriveLogic, ALatchIsSetAndReset) {
  const Drive found = drive("VAR m : RS; END_VAR m(S := A, R1 := B); LAMP := m.Q1;");
  ASSERT_EQ(found.verdict, DriveVerdict::drivable);
  ASSERT_EQ(found.steps.size(), 3u);
  EXPECT_EQ(text(found.steps[1].choice), "10");
  EXPECT_EQ(text(found.steps[2].choice), "11");  // one change, not two
}

TEST_F(DriveLogic, TimersAreWaitedFor) {
  const Drive found = drive("VAR t : TON; END_VAR t(IN := A, PT := T#30s); LAMP := t.Q;");
  ASSERT_EQ(found.steps.size(), 4u);
  EXPECT_EQ(found.steps[2].kind, Step::Kind::wait);
  EXPECT_EQ(found.steps[2].wait_ms, 30'000u);
}

TEST_F(DriveLogic, APulseOfOneScanIsNoAnswer) {
  const Drive found = drive("VAR e : R_TRIG; END_VAR e(CLK := A); LAMP := e.Q;");
  EXPECT_EQ(found.verdict, DriveVerdict::unreachable);
  EXPECT_TRUE(found.is_whole);
}

TEST_F(DriveLogic, WhatNeverComesOnIsUnreachable) {
  EXPECT_EQ(drive("LAMP := A AND NOT A;").verdict, DriveVerdict::unreachable);
  EXPECT_EQ(drive("LAMP := LEVEL > 80 AND LEVEL < 20;").verdict, DriveVerdict::unreachable);
  EXPECT_EQ(drive("MOTOR := A;").verdict, DriveVerdict::no_logic);
}

TEST_F(DriveLogic, WhatNeverGoesOffAgainIsToldSo) {
  const Drive found = drive("LAMP := LAMP OR A;");
  EXPECT_EQ(found.verdict, DriveVerdict::unreachable);
  EXPECT_TRUE(found.turns_on);
  EXPECT_FALSE(found.turns_off);
}

TEST_F(DriveLogic, WhatOscillatesIsLeftOut) {
  const Drive found = drive("LAMP := NOT LAMP AND A;");
  EXPECT_TRUE(found.oscillates);
  EXPECT_EQ(found.verdict, DriveVerdict::unreachable);
}

TEST_F(DriveLogic, TheLimitIsSaid) {
  const Drive found =
      drive("VAR e : R_TRIG; END_VAR e(CLK := A AND B AND C AND D); LAMP := e.Q;", {10, 65'536});
  EXPECT_EQ(found.verdict, DriveVerdict::unreachable);
  EXPECT_FALSE(found.is_whole);
}

TEST_F(DriveLogic, AnalogValuesLieOnBothSidesOfEachConstant) {
  const Drive found = drive("LAMP := LEVEL > 20 AND LEVEL < 80;");
  ASSERT_EQ(found.sources.size(), 1u);
  EXPECT_EQ(found.sources[0].options, (std::vector<std::vector<double>>{{10}, {50}, {90}}));
  EXPECT_EQ(drive("LAMP := LEVEL = 20;").sources[0].options,
            (std::vector<std::vector<double>>{{10}, {20}, {60}}));
}

TEST_F(DriveLogic, MaskedInputsHaveNoPair) {
  const Drive found = drive("LAMP := A OR A AND B;");
  EXPECT_EQ(cause(found, k_a), std::nullopt);
  EXPECT_EQ(cause(found, k_b), NoPair::masked);
}

TEST_F(DriveLogic, APairMayNeedAStateThatCannotBeReached) {
  const Drive found = drive("VAR m : RS; END_VAR m(S := A AND NOT A, R1 := FALSE); LAMP := B OR m.Q1 AND A;");
  EXPECT_EQ(cause(found, k_a), NoPair::unreachable);
  EXPECT_EQ(cause(found, k_b), std::nullopt);
}

TEST_F(DriveLogic, PairsStartFromTheStateTheyState) {
  const Drive found = drive("VAR m : SR; END_VAR m(S1 := A, R := B); LAMP := m.Q1;");
  ASSERT_EQ(found.pairs.size(), 2u);
  EXPECT_FALSE(found.is_chained);
  for (const Pair& pair : found.pairs) EXPECT_NE(pair.first.back().is_on, pair.second.back().is_on);
}

// Hayhurst, Veerhusen, Chilenski, Rierson 2001, A Practical Tutorial on Modified Condition/Decision Coverage,
// NASA/TM-2001-210876, chapter 3 (from memory): the minimum tests of an n-input AND are all true and each one
// false alone; of an OR all false and each one true alone; an XOR takes any.
TEST_F(DriveLogic, MinimumTestsOfAndGatesAreThoseOfTheTutorial) {
  const Drive found = drive("LAMP := A AND B AND C;");
  EXPECT_EQ(pair_of(found, k_a), std::pair(std::string("011"), std::string("111")));
  EXPECT_EQ(pair_of(found, k_b), std::pair(std::string("101"), std::string("111")));
  EXPECT_EQ(pair_of(found, 2), std::pair(std::string("110"), std::string("111")));
}

TEST_F(DriveLogic, MinimumTestsOfOrGatesAreThoseOfTheTutorial) {
  const Drive found = drive("LAMP := A OR B;");
  EXPECT_EQ(pair_of(found, k_a), std::pair(std::string("00"), std::string("10")));
  EXPECT_EQ(pair_of(found, k_b), std::pair(std::string("00"), std::string("01")));
}

// The same, the worked example of its figures: Z := (A or B) and (C or D). The pairs of A hold B false and
// one of C and D true (from memory).
TEST_F(DriveLogic, PairsOfTheTutorialsExampleAreFound) {
  const Drive found = drive("LAMP := (A OR B) AND (C OR D);");
  ASSERT_EQ(found.pairs.size(), 4u);
  for (const auto& [variable, masks] :
       std::vector<std::pair<std::uint32_t, std::size_t>>{{k_a, 1}, {k_b, 0}, {2, 3}, {3, 2}}) {
    const auto [low, high] = pair_of(found, variable);
    ASSERT_EQ(low.size(), 4u);
    EXPECT_EQ(low[masks], '0') << variable;
    const std::size_t other = variable < 2 ? 2 : 0;
    EXPECT_TRUE(low[other] == '1' || low[other + 1] == '1') << variable;
    EXPECT_NE(low[variable], high[variable]);
  }
}

// Coupled conditions cannot be shown by unique cause: A appears twice in (A and B) or (not A and C), and yet
// as one input it has a pair where B and C differ (the tutorial treats them as strongly coupled; from
// memory).
TEST_F(DriveLogic, AnInputUsedTwiceIsOneInput) {
  const Drive found = drive("LAMP := A AND B OR NOT A AND C;");
  const auto [low, high] = pair_of(found, k_a);
  ASSERT_EQ(low.size(), 3u);
  EXPECT_NE(low[1], low[2]);
}

/// Without memory the pairs follow each other; their order is the best of all.
TEST_F(DriveLogic, OrderOfPairsTakesTheFewestChanges) {
  const Drive found = drive("LAMP := A AND B OR C AND D;");
  ASSERT_TRUE(found.is_chained);
  const auto distance = [](const Choice& a, const Choice& b) {
    int sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] != b[i];
    return sum;
  };
  const auto length = [&](const std::vector<std::pair<Choice, Choice>>& order) {
    int sum = 0;
    Choice at(4, 0);
    for (const auto& [first, second] : order) {
      sum += distance(at, first) + distance(first, second);
      at = second;
    }
    return sum;
  };
  std::vector<std::pair<Choice, Choice>> order;
  for (const Pair& pair : found.pairs)
    order.emplace_back(pair.first.front().choice, pair.second.front().choice);
  const int own = length(order);
  std::sort(order.begin(), order.end());
  do {
    for (unsigned turned = 0; turned < 16; ++turned) {
      auto other = order;
      for (std::size_t i = 0; i < 4; ++i)
        if ((turned >> i & 1u) != 0) std::swap(other[i].first, other[i].second);
      EXPECT_LE(own, length(other));
    }
  } while (std::next_permutation(order.begin(), order.end()));
}

}  // namespace
}  // namespace ringtrue::logic
