#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <functional>

#include "logic/search.hpp"
#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "tests/logic/panel.hpp"

namespace ringtrue::logic {
namespace {

class DriveLogic : public testing::Test {
 protected:
  Drive drive(const std::string& text, const DriveLimits& limits = {}) {
    const auto program = parse_logic(text, "p.st", panel_);
    EXPECT_TRUE(program) << (program ? "" : to_text(program.error().front()));
    return drive_output(*program, k_lamp, graph_, fittings_, limits);
  }
  static std::optional<NoPair> cause(const Drive& drive, std::uint32_t variable) {
    for (const Unpaired& unpaired : drive.deciding.unpaired)
      if (unpaired.variable == variable) return unpaired.cause;
    return std::nullopt;
  }
  /// Input states `ABC` of both members of a variable's pair.
  static std::pair<std::string, std::string> pair_of(const Drive& drive, std::uint32_t variable) {
    const auto& tests = drive.deciding.tests;
    for (const Pair& pair : drive.deciding.pairs)
      if (pair.variable == variable)
        return std::minmax(text(tests[pair.first].steps.front().choice),
                           text(tests[pair.second].steps.front().choice));
    return {};
  }
  static std::string text(const Choice& choice) {
    std::string digits;
    for (const std::uint16_t option : choice) digits += static_cast<char>('0' + option);
    return digits;
  }

  Netlist panel_ = logic_panel();
  ConductionGraph graph_{panel_};
  Fittings fittings_ = fittings_of(graph_, nullptr);
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

TEST_F(DriveLogic, WaitsAddUpBeyondFortyNineDays) {
  const Drive found = drive(
      "VAR t : TON; u : TON; v : TON; END_VAR t(IN := A, PT := T#24d); u(IN := t.Q, PT := T#24d); v(IN := "
      "u.Q, PT := T#24d); "
      "LAMP := v.Q;");
  ASSERT_EQ(found.deciding.pairs.size(), 1u);
  for (const Trial& test : found.deciding.tests) EXPECT_EQ(test.watch_ms, 3 * 24 * 86'400'000ull);
}

TEST_F(DriveLogic, AnAnalogInputMayHaveMoreConstantsThanAByteCounts) {
  std::string text = "LAMP := LEVEL > 99.5 AND (A";
  for (int i = 1; i <= 300; ++i) text += " OR LEVEL < " + std::to_string(i / 4.0);
  const Drive found = drive(text + ");");
  EXPECT_EQ(found.sources[1].options.size(), 302u);
  EXPECT_EQ(found.verdict, DriveVerdict::drivable);
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

TEST_F(DriveLogic, WhatNothingAssignsHasItsSheetAllTheSame) {
  const Drive found = drive("");
  EXPECT_EQ(found.verdict, DriveVerdict::no_logic);
  const JumperOptions options;
  DriveReport report{graph_, "p.st", fittings_, options, {{found, outlet_of(graph_, 5)}}, {}};
  EXPECT_NE(drive_text(report).find("the logic does not assign LAMP"), std::string::npos);
  EXPECT_NE(drive_csv(report).find("LAMP"), std::string::npos);
  EXPECT_NE(drive_json(report).find("no-logic"), std::string::npos);
}

TEST_F(DriveLogic, TheSheetToFillInSaysWhatIsOnHold) {
  const JumperOptions options;
  DriveReport report{graph_, "p.st", fittings_, options, {{drive("LAMP := A;"), outlet_of(graph_, 5)}}, {}};
  EXPECT_NE(drive_csv(report).find("A1:0,A,fitted,,,\"jumper from X2:1.ext to X1:1.ext: hold; "),
            std::string::npos)
      << drive_csv(report);
}

TEST_F(DriveLogic, EveryStepOfALongChainOfTimersSaysWhatToDo) {
  std::string text = "VAR t0 : TON;", calls = "t0(IN := A, PT := T#1s);";
  for (int i = 1; i < 40; ++i) {
    const std::string n = std::to_string(i);
    text += " t" + n + " : TON;";
    calls += " t" + n + "(IN := t" + std::to_string(i - 1) + ".Q, PT := T#" + n + "s);";
  }
  const JumperOptions options;
  DriveReport report{graph_, "p.st", fittings_, options, {}, {}};
  report.outputs.push_back({drive(text + " END_VAR " + calls + " LAMP := t39.Q;"), outlet_of(graph_, 5)});
  EXPECT_EQ(report.outputs[0].drive.verdict, DriveVerdict::drivable);
  EXPECT_EQ(drive_text(report).find("  : "), std::string::npos) << drive_text(report);
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

// 4-20 mA for 0 to 100 %: by NAMUR NE 43 values reach from 3.8 to 20.5 mA (from memory).
TEST_F(DriveLogic, NoMoreIsFedThanTheSheetAsksFor) {
  EXPECT_EQ(drive("LAMP := LEVEL > 5000.0;").verdict, DriveVerdict::unreachable);
  EXPECT_EQ(drive("LAMP := LEVEL < -5000.0;").verdict, DriveVerdict::unreachable);
  const Drive above = drive("LAMP := LEVEL > 103.0 OR LEVEL = 200.0;");
  EXPECT_EQ(above.verdict, DriveVerdict::drivable);
  for (const std::vector<double>& option : above.sources[0].options) EXPECT_LE(option[0], 103.125);
  EXPECT_EQ(drive("LAMP := LEVEL >= 103.125;").verdict, DriveVerdict::drivable);
  EXPECT_EQ(drive("LAMP := LEVEL > 103.125;").verdict, DriveVerdict::unreachable);
  EXPECT_EQ(drive("LAMP := LEVEL < 0.0;").sources[0].options,
            (std::vector<std::vector<double>>{{-0.5}, {50}}));
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

std::size_t distance(const Choice& a, const Choice& b) {
  std::size_t sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) sum += a[i] != b[i] ? 1 : 0;
  return sum;
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

/// The sequence as well: among all of three input states that turn the lamp on and off, none changes less.
TEST_F(DriveLogic, NoSequenceTakesFewerChanges) {
  const std::vector<std::pair<std::string, std::function<bool(unsigned)>>> cases = {
      {"A AND B", [](unsigned v) { return (v & 3u) == 3; }},
      {"A AND B OR C AND D", [](unsigned v) { return (v & 3u) == 3 || (v & 12u) == 12; }},
      {"NOT A AND B XOR C AND D",
       [](unsigned v) { return ((v & 1u) == 0 && (v & 2u) != 0) != ((v & 12u) == 12); }},
      {"(A OR B) AND C AND D", [](unsigned v) { return (v & 3u) != 0 && (v & 12u) == 12; }}};
  for (const auto& [logic, is_on] : cases) {
    int least = 9;
    for (unsigned on = 0; on < 16; ++on)
      for (unsigned off = 0; off < 16; ++off)
        if (is_on(on) && !is_on(off)) least = std::min(least, std::popcount(on) + std::popcount(on ^ off));
    const Drive found = drive("LAMP := " + logic + ";");
    ASSERT_EQ(found.steps.size(), 3u) << logic;
    EXPECT_EQ(distance(found.steps[0].choice, found.steps[1].choice) +
                  distance(found.steps[1].choice, found.steps[2].choice),
              static_cast<std::size_t>(least))
        << logic;
  }
}

/// A alone sets it and takes three changes to reset; B and C set it and take one.
TEST_F(DriveLogic, TheWholeSequenceTakesTheFewestChanges) {
  const Drive found = drive("VAR m : RS; END_VAR m(S := A OR B AND C, R1 := B AND C AND D); LAMP := m.Q1;");
  ASSERT_EQ(found.steps.size(), 3u);
  ASSERT_TRUE(found.is_exact_order);
  EXPECT_EQ(text(found.steps[1].choice), "0110");
  EXPECT_EQ(text(found.steps[2].choice), "0111");
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
