#include <gtest/gtest.h>

#include <algorithm>
#include <bit>
#include <functional>

#include "ringtrue/logic/drive.hpp"
#include "ringtrue/logic/outlet.hpp"
#include "ringtrue/report/drive_report.hpp"
#include "tests/logic/drive_logic.hpp"

namespace ringtrue::logic {
namespace {

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

}  // namespace
}  // namespace ringtrue::logic
