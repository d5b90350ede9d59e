// Each input decides alone (unique-cause MC/DC): its pair, and the order of the tests.
#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <functional>

#include "logic/search.hpp"
#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "tests/logic/drive_logic.hpp"

namespace ringtrue::logic {
namespace {

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
  ASSERT_EQ(found.deciding.pairs.size(), 2u);
  EXPECT_FALSE(found.deciding.is_chained);
  const auto& tests = found.deciding.tests;
  for (const Pair& pair : found.deciding.pairs)
    EXPECT_NE(tests[pair.first].steps.back().is_on, tests[pair.second].steps.back().is_on);
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
  ASSERT_EQ(found.deciding.pairs.size(), 4u);
  EXPECT_LE(found.deciding.tests.size(), 6u);
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

// The same, chapter 3 (from memory): n conditions take at least n + 1 tests, and an AND or OR gate takes no
// more.
TEST_F(DriveLogic, GatesTakeOneTestMoreThanInputs) {
  for (const std::string op : {" AND ", " OR ", " XOR "}) {
    const Drive found = drive("LAMP := A" + op + "B" + op + "C" + op + "D;");
    EXPECT_EQ(found.deciding.pairs.size(), 4u) << op;
    EXPECT_EQ(found.deciding.tests.size(), 5u) << op;
  }
}

// The same (from memory): the tests of A XOR B take any three of its four rows.
TEST_F(DriveLogic, XorTakesAnyThreeOfItsRows) {
  const Drive found = drive("LAMP := A XOR B;");
  EXPECT_EQ(found.deciding.tests.size(), 3u);
  EXPECT_EQ(found.deciding.pairs.size(), 2u);
}

// The same, section on coupled conditions (from memory): in A OR NOT A neither can be shown alone.
TEST_F(DriveLogic, ATautologyHasNoPair) {
  const Drive found = drive("LAMP := B AND (A OR NOT A);");
  EXPECT_EQ(cause(found, k_a), NoPair::masked);
  EXPECT_EQ(cause(found, k_b), std::nullopt);
}

std::size_t changes_of(const std::vector<Choice>& order) {
  Choice at(order.front().size(), 0);
  std::size_t sum = 0;
  for (const Choice& choice : order) {
    sum += distance(at, choice);
    at = choice;
  }
  return sum;
}

/// Without memory the tests follow each other; no other order takes fewer changes.
TEST_F(DriveLogic, OrderOfTestsTakesTheFewestChanges) {
  for (const std::string logic : {"A AND B OR C AND D", "A XOR B XOR C", "(A OR B) AND (C OR D)",
                                  "A AND NOT B AND (C OR D)", "LEVEL > 20 AND A OR B AND LEVEL < 80"}) {
    const Drive found = drive("LAMP := " + logic + ";");
    ASSERT_TRUE(found.deciding.is_chained && found.deciding.is_exact_order);
    std::vector<Choice> order;
    for (const Trial& test : found.deciding.tests) order.push_back(test.steps.front().choice);
    ASSERT_LE(order.size(), 8u);
    const std::size_t own = changes_of(order);
    std::size_t least = own;
    std::sort(order.begin(), order.end());
    do least = std::min(least, changes_of(order));
    while (std::next_permutation(order.begin(), order.end()));
    EXPECT_EQ(own, least) << logic;
  }
}

/// More tests than are tried in every order: each goes to the nearest next. The pairs are looked at by the
/// expression itself. Changes by hand, of 12 inputs: AND, 11 to the first with one input off, 1 to all on, 1
/// from there, 2 for each of the ten others; OR and XOR, 0 for rest, 1 to the first on, 2 for each of the
/// eleven others.
TEST_F(DriveLogic, ManyTestsGoToTheNearestAndStillShowEveryInput) {
  constexpr int k_inputs = 12;
  const Netlist panel = wide_panel(k_inputs);
  const ConductionGraph graph(panel);
  const auto ones = [](const Choice& c) { return std::count(c.begin(), c.end(), 1); };
  struct Gate {
    std::string op;
    std::function<bool(const Choice&)> is_on;
    std::size_t changes;
  };
  const std::vector<Gate> gates = {{" AND ", [&](const Choice& c) { return ones(c) == k_inputs; }, 33},
                                   {" OR ", [&](const Choice& c) { return ones(c) > 0; }, 23},
                                   {" XOR ", [&](const Choice& c) { return ones(c) % 2 == 1; }, 23}};
  for (const Gate& gate : gates) {
    std::string expression = "I1";
    for (int i = 2; i <= k_inputs; ++i) expression += gate.op + "I" + std::to_string(i);
    const auto program = parse_logic("LAMP := " + expression + ";", "p.st", panel);
    ASSERT_TRUE(program);
    const Drive found = drive_output(*program, k_inputs, graph, fittings_of(graph, nullptr));
    EXPECT_TRUE(found.deciding.is_chained && !found.deciding.is_exact_order) << gate.op;
    EXPECT_TRUE(found.deciding.unpaired.empty()) << gate.op;
    ASSERT_EQ(found.deciding.tests.size(), 13u) << gate.op;
    ASSERT_EQ(found.deciding.pairs.size(), 12u) << gate.op;
    for (std::uint32_t i = 0; i < k_inputs; ++i) {
      const Pair& pair = found.deciding.pairs[i];
      const Step &one = found.deciding.tests.at(pair.first).steps.front(),
                 &two = found.deciding.tests.at(pair.second).steps.front();
      EXPECT_EQ(pair.variable, i);
      EXPECT_TRUE(distance(one.choice, two.choice) == 1 && one.choice[i] != two.choice[i]) << gate.op << i;
      EXPECT_NE(gate.is_on(one.choice), gate.is_on(two.choice)) << gate.op << i;
      EXPECT_EQ(one.is_on, gate.is_on(one.choice)) << gate.op << i;
      EXPECT_EQ(two.is_on, gate.is_on(two.choice)) << gate.op << i;
    }
    std::vector<Choice> order;
    for (const Trial& test : found.deciding.tests) order.push_back(test.steps.front().choice);
    EXPECT_EQ(changes_of(order), gate.changes) << gate.op;
  }
}

/// Too many input states: those that change one or two sources, the fewest changes first, each once.
TEST(DriveChoices, OfTooManyTheNearOnesAreTried) {
  std::vector<Source> sources(3);
  for (std::size_t i = 0; i < 3; ++i) sources[i].options.resize(i + 2);
  const Choice at = {1, 0, 2};
  const Choices choices(sources, 2 * 3 * 4 - 1);
  ASSERT_FALSE(choices.is_whole());
  std::vector<Choice> near = choices.from(at);
  EXPECT_TRUE(std::is_sorted(near.begin(), near.end(), [&](const Choice& a, const Choice& b) {
    return distance(a, at) < distance(b, at);
  }));
  std::vector<Choice> expected;
  for (std::uint16_t a = 0; a < 2; ++a)
    for (std::uint16_t b = 0; b < 3; ++b)
      for (std::uint16_t c = 0; c < 4; ++c)
        if (distance({a, b, c}, at) <= 2) expected.push_back({a, b, c});
  std::sort(near.begin(), near.end());
  EXPECT_EQ(near, expected);
}

TEST_F(DriveLogic, OfTooManyInputStatesTheNearOnesDriveAndDecide) {
  const Drive found = drive("LAMP := A AND B OR C AND D;", {2'000'000, 15});
  ASSERT_EQ(found.verdict, DriveVerdict::drivable);
  ASSERT_EQ(found.steps.size(), 3u);
  EXPECT_EQ(distance(found.steps[0].choice, found.steps[1].choice), 2u);
  EXPECT_EQ(distance(found.steps[1].choice, found.steps[2].choice), 1u);
  const auto is_on = [](const std::string& v) {
    return (v[0] == '1' && v[1] == '1') || (v[2] == '1' && v[3] == '1');
  };
  for (const std::uint32_t input : {0u, 1u, 2u, 3u}) {
    const auto [low, high] = pair_of(found, input);
    ASSERT_EQ(low.size(), 4u) << input;
    std::string turned = low;
    turned[input] = '1';
    EXPECT_EQ(high, turned);
    EXPECT_NE(is_on(low), is_on(high)) << low << " " << high;
  }
}

/// Four changes away from rest: nothing is said not to exist that wasn't looked for.
TEST_F(DriveLogic, WhatLiesBeyondTheNearInputStatesIsSaidNotToBeSearched) {
  const Drive found = drive("LAMP := A AND B AND C AND D;", {2'000'000, 15});
  EXPECT_EQ(found.verdict, DriveVerdict::unreachable);
  EXPECT_FALSE(found.is_whole);
  for (const Unpaired& unpaired : found.deciding.unpaired) EXPECT_EQ(unpaired.cause, NoPair::not_searched);
}

/// No value within the range passes its constant, so no state lets it decide.
TEST_F(DriveLogic, AnAnalogInputThatNeverPassesItsConstantIsMasked) {
  const Drive found = drive("LAMP := A OR LEVEL > 5000.0;");
  ASSERT_EQ(found.verdict, DriveVerdict::drivable);
  EXPECT_EQ(cause(found, k_level), NoPair::masked);
  EXPECT_EQ(cause(found, k_a), std::nullopt);
}

TEST_F(DriveLogic, AnAnalogInputWithARoleIsHeld) {
  panel_.channels[k_level].role = Role::stop;
  const ConductionGraph graph(panel_);
  const Fittings fittings = fittings_of(graph, nullptr);
  const auto program = parse_logic("LAMP := A OR LEVEL > 20; MOTOR := A AND LEVEL > 20;", "p.st", panel_);
  ASSERT_TRUE(program);
  const Drive lamp = drive_output(*program, k_lamp, graph, fittings);
  ASSERT_EQ(lamp.verdict, DriveVerdict::drivable);
  EXPECT_EQ(cause(lamp, k_level), NoPair::held);
  for (const Trial& test : lamp.deciding.tests)
    EXPECT_EQ(test.steps.front().choice[1], test.prior.front().choice[1]);
  const Drive motor = drive_output(*program, k_lamp + 1, graph, fittings);
  EXPECT_NE(motor.verdict, DriveVerdict::drivable);
  EXPECT_EQ(motor.needs, std::vector<std::uint32_t>{k_level});
}

TEST_F(DriveLogic, WhereAJumperIsRefusedTheInputIsHeld) {
  const Netlist panel = logic_panel("B");
  const ConductionGraph graph(panel);
  const auto program = parse_logic("LAMP := A OR B AND C; MOTOR := B AND A;", "p.st", panel);
  ASSERT_TRUE(program);
  const Fittings fittings = fittings_of(graph, nullptr, {60, "A. Tester"});
  const Drive lamp = drive_output(*program, k_lamp, graph, fittings);
  ASSERT_EQ(lamp.verdict, DriveVerdict::drivable);
  EXPECT_EQ(lamp.sources[1].how, How::hold);
  EXPECT_TRUE(lamp.sources[1].is_refused);
  EXPECT_EQ(lamp.refused, std::vector<std::uint32_t>{k_b});
  EXPECT_EQ(cause(lamp, k_b), NoPair::held);
  EXPECT_EQ(cause(lamp, 2), NoPair::held);  // only with B
  EXPECT_EQ(drive_output(*program, k_lamp + 1, graph, fittings).verdict, DriveVerdict::not_testable);
}

/// A latch stays set; where its reset goes before its set it is set even on the way back, last first.
TEST_F(DriveLogic, TheControllerIsStartedAnewWhereSomethingStays) {
  const Drive latch = drive("VAR m : RS; END_VAR m(S := A, R1 := B); LAMP := m.Q1;");
  for (const Trial& test : latch.deciding.tests)
    EXPECT_EQ(test.must_restart, test.steps.front().choice.front() == 1) << text(test.steps.front().choice);
  const Drive delay = drive("VAR t : TOF; END_VAR t(IN := A AND B, PT := T#9s); LAMP := t.Q;");
  for (const Trial& test : delay.deciding.tests) {
    EXPECT_FALSE(test.must_restart);
    EXPECT_EQ(test.back_ms, test.steps.front().is_on ? 9'000u : 0u);
  }
}

TEST_F(DriveLogic, WhatStopsASetIsMovedFirst) {
  const Drive found = drive("VAR m : SR; END_VAR m(S1 := A AND NOT B, R := FALSE); LAMP := m.Q1;");
  for (const Pair& pair : found.deciding.pairs)
    if (pair.variable == k_b) {
      const auto& tests = found.deciding.tests;
      const Trial& both =
          text(tests[pair.first].steps.front().choice) == "11" ? tests[pair.first] : tests[pair.second];
      EXPECT_EQ(text(both.steps.front().choice), "11");
      EXPECT_EQ(both.steps.front().first, k_b);
      EXPECT_FALSE(both.steps.front().is_together);
    }
}

}  // namespace
}  // namespace ringtrue::logic
