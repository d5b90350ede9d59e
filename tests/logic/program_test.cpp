#include <gtest/gtest.h>

#include <functional>

#include "ringtrue/logic/plc.hpp"
#include "tests/logic/panel.hpp"

namespace ringtrue::logic {
namespace {

/// Runs one assignment to OUT over constants and inputs that are off.
bool value_of(const std::string& expression) {
  const Netlist panel = logic_panel();
  const auto program = parse_logic("VAR OUT : BOOL; END_VAR OUT := " + expression + ";", "p.st", panel);
  EXPECT_TRUE(program) << (program ? "" : to_text(program.error().front()));
  if (!program) return false;
  Plc plc(*program);
  plc.scan(0);
  return plc.value(static_cast<std::uint32_t>(program->variables.size() - 1));
}

// IEC 61131-3 ed. 3, 2013, table 71 (from memory; restated and confirmed by an open parser's notes in the
// check values of this project, section 9). Each gives the opposite if its operators are taken in the wrong
// order.
TEST(Logic, PrecedenceIsThatOfTheStandard) {
  EXPECT_TRUE(value_of("TRUE OR TRUE AND FALSE"));
  EXPECT_FALSE(value_of("NOT FALSE AND FALSE"));
  EXPECT_TRUE(value_of("TRUE XOR TRUE OR TRUE"));
  EXPECT_TRUE(value_of("TRUE OR FALSE XOR TRUE"));
}

TEST(Logic, EqualityBindsTighterThanAnd) {
  EXPECT_FALSE(value_of("FALSE = FALSE AND FALSE"));  // else FALSE = (FALSE AND FALSE) = TRUE
  EXPECT_FALSE(value_of("TRUE <> TRUE AND FALSE"));   // else TRUE <> (TRUE AND FALSE) = TRUE
  EXPECT_TRUE(value_of("NOT TRUE = FALSE"));
}

TEST(Logic, OperatorsOfOneLevelGoFromLeftToRight) {
  EXPECT_FALSE(value_of("FALSE = FALSE = FALSE"));
  EXPECT_TRUE(value_of("FALSE <> FALSE = FALSE"));
}

TEST(Logic, ParenthesesGoFirst) { EXPECT_FALSE(value_of("(TRUE OR TRUE) AND FALSE")); }

TEST(Logic, CommentsAndCaseDontMatter) {
  EXPECT_TRUE(value_of("true (* a comment;\n over two lines *) or // to the end of the line\n False"));
}

struct Scan {
  int first, second;
  std::uint32_t ms;
  int q;
};

/// Feeds a block from IN and RESET_IN and looks at its Q.
void expect_scans(const std::string& type, const std::string& call, const std::vector<Scan>& scans) {
  const Netlist panel = logic_panel();
  const std::string text = "VAR block : " + type + "; END_VAR block(" + call + "); LAMP := block.Q;";
  const auto program = parse_logic(text, "p.st", panel);
  ASSERT_TRUE(program) << to_text(program.error().front());
  Plc plc(*program);
  for (std::size_t i = 0; i < scans.size(); ++i) {
    plc.set(k_a, scans[i].first != 0);
    plc.set(k_b, scans[i].second != 0);
    plc.scan(scans[i].ms);
    EXPECT_EQ(plc.value(k_lamp), scans[i].q != 0) << type << ", scan " << i;
  }
}

// Check values, section 9: behaviour of the standard function blocks (open libraries; from memory where
// said).
TEST(Logic, SetWinsInSr) {
  expect_scans("SR", "S1 := A, R := B",
               {{0, 0, 0, 0}, {1, 0, 0, 1}, {0, 0, 0, 1}, {0, 1, 0, 0}, {1, 1, 0, 1}});
}

TEST(Logic, ResetWinsInRs) {
  expect_scans("RS", "S := A, R1 := B",
               {{0, 0, 0, 0}, {1, 0, 0, 1}, {0, 0, 0, 1}, {0, 1, 0, 0}, {1, 1, 0, 0}});
}

TEST(Logic, LongNamesOfPinsAreTakenToo) {
  expect_scans("RS", "SET := A, RESET1 := B", {{1, 0, 0, 1}, {1, 1, 0, 0}});
  expect_scans("SR", "SET1 := A, RESET := B", {{1, 1, 0, 1}, {0, 1, 0, 0}});
}

TEST(Logic, EdgesLastOneScan) {
  expect_scans("R_TRIG", "CLK := A", {{0, 0, 0, 0}, {1, 0, 0, 1}, {1, 0, 0, 0}, {0, 0, 0, 0}, {1, 0, 0, 1}});
  expect_scans("F_TRIG", "CLK := A", {{0, 0, 0, 0}, {1, 0, 0, 0}, {0, 0, 0, 1}, {0, 0, 0, 0}});
}

TEST(Logic, OnDelayWaitsAndDropsAtOnce) {
  expect_scans("TON", "IN := A, PT := T#1s",
               {{1, 0, 50, 0},
                {1, 0, 999, 0},
                {1, 0, 1, 1},
                {1, 0, 5000, 1},
                {0, 0, 0, 0},
                {1, 0, 1000, 0},
                {1, 0, 1000, 1}});
}

TEST(Logic, OffDelayHoldsOn) {
  expect_scans("TOF", "IN := A, PT := T#1s",
               {{0, 0, 2000, 0},
                {1, 0, 0, 1},
                {0, 0, 50, 1},
                {0, 0, 999, 1},
                {1, 0, 0, 1},
                {0, 0, 0, 1},
                {0, 0, 999, 1},
                {0, 0, 1, 0}});
}

TEST(Logic, PulseTakesNoNewTriggerMeanwhile) {
  expect_scans("TP", "IN := A, PT := T#1s",
               {{1, 0, 0, 1},
                {0, 0, 400, 1},
                {1, 0, 400, 1},
                {1, 0, 200, 0},
                {1, 0, 5000, 0},
                {0, 0, 0, 0},
                {1, 0, 0, 1}});
}

TEST(Logic, DurationsAddUpTheirUnits) {
  const Netlist panel = logic_panel();
  const auto program = parse_logic("VAR a, : TON; END_VAR", "p.st", panel);
  EXPECT_FALSE(program);
  const auto good =
      parse_logic("VAR t : TON; w : TIME := T#1m30s; END_VAR t(IN := A, PT := w);", "p.st", panel);
  ASSERT_TRUE(good);
  EXPECT_EQ(good->blocks.front().preset_ms, 90'000u);
  const auto split = parse_logic("VAR t : TP; END_VAR t(IN := A, PT := TIME#1.5s_20ms);", "p.st", panel);
  ASSERT_TRUE(split);
  EXPECT_EQ(split->blocks.front().preset_ms, 1'520u);
}

TEST(Logic, AnalogInputsCompareOnEitherSide) {
  const Netlist panel = logic_panel();
  const auto program =
      parse_logic("VAR k : REAL := 20.0; END_VAR LAMP := 10 < LEVEL AND LEVEL <= k;", "p.st", panel);
  ASSERT_TRUE(program) << to_text(program.error().front());
  Plc plc(*program);
  for (const auto& [level, lit] :
       std::vector<std::pair<double, bool>>{{10, false}, {10.5, true}, {20, true}, {20.5, false}}) {
    plc.set(k_level, level);
    plc.scan(0);
    EXPECT_EQ(plc.value(k_lamp), lit) << level;
  }
}

TEST(Logic, AComparisonTurnedRoundSaysTheSame) {
  const Netlist panel = logic_panel();
  struct Sign {
    std::string sign, turned;
    std::function<bool(double, double)> holds;
  };
  const std::vector<Sign> signs = {{">", "<", std::greater<>()},         {"<", ">", std::less<>()},
                                   {">=", "<=", std::greater_equal<>()}, {"<=", ">=", std::less_equal<>()},
                                   {"=", "=", std::equal_to<>()},        {"<>", "<>", std::not_equal_to<>()}};
  for (const Sign& one : signs) {
    const std::string text = "LAMP := 50 " + one.sign + " LEVEL; MOTOR := LEVEL " + one.turned + " 50;";
    const auto program = parse_logic(text, "p.st", panel);
    ASSERT_TRUE(program) << to_text(program.error().front());
    Plc plc(*program);
    for (const double level : {49.5, 50.0, 50.5}) {
      plc.set(k_level, level);
      plc.scan(0);
      EXPECT_EQ(plc.value(k_lamp), one.holds(50, level)) << text << " " << level;
      EXPECT_EQ(plc.value(k_lamp + 1), one.holds(50, level)) << text << " " << level;
    }
  }
}

TEST(Logic, NumbersMayHaveAnExponent) {
  const Netlist panel = logic_panel();
  for (const auto& [literal, value] : std::vector<std::pair<std::string, double>>{
           {"1.5e1", 15}, {"2E+1", 20}, {"125.0e-1", 12.5}, {"-1e2", -100}, {"1_000e-2", 10}, {"80", 80}}) {
    const auto program = parse_logic("LAMP := LEVEL > " + literal + ";", "p.st", panel);
    ASSERT_TRUE(program) << to_text(program.error().front());
    ASSERT_EQ(program->comparisons.size(), 1u) << literal;
    EXPECT_EQ(program->comparisons[0].constant, value) << literal;
  }
}

TEST(Logic, AnAddressMayBeTheTagToo) {
  Netlist panel = logic_panel();
  panel.channels[k_a].tag = panel.channels[k_a].address;
  const auto program = parse_logic("LAMP := %IX0.0 OR B;", "p.st", panel);
  ASSERT_TRUE(program) << to_text(program.error().front());
  Plc plc(*program);
  plc.set(k_a, true);
  plc.scan(0);
  EXPECT_TRUE(plc.value(k_lamp));
}

TEST(Logic, AddressesStandForTheirChannels) {
  const Netlist panel = logic_panel();
  const auto program = parse_logic("%qx0.0 := %IX0.0 AND NOT %ix0.1;", "p.st", panel);
  ASSERT_TRUE(program) << to_text(program.error().front());
  Plc plc(*program);
  plc.set(k_a, true);
  plc.scan(0);
  EXPECT_TRUE(plc.value(k_lamp));
}

}  // namespace
}  // namespace ringtrue::logic
