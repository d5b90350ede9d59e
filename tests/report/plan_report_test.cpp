#include "ringtrue/report/plan_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "report/text_layout.hpp"
#include "ringtrue/load/load.hpp"
#include "tests/report/report_support.hpp"
#include "tests/support/temp_folder.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

/// A plan made by hand, for a panel with a part of another function.
class PlanReportTest : public testing::Test {
 protected:
  PlanReportTest() {
    panel_.wire("1", "G1:+", "X1:1.int", "1.1")
        .wire("2", "G1:+", "=GD2-K1:A1", "1.2")
        .wire("@3", "K5:A1", "K6:A1", "1.3")
        .part("X1:1", "terminal", "int", "ext", "1.1");
    plan_.conditions.emplace_back();
  }
  void plan_reading(std::string_view from, std::string_view to, std::vector<std::string_view> proves,
                    Expected expected = Expected::beep) {
    PlannedReading reading;
    reading.from = panel_.point(from), reading.to = panel_.point(to);
    reading.expected = expected;
    for (const auto name : proves) reading.proves.push_back(panel_.element(name));
    plan_.readings.push_back(reading);
    plan_.targets += proves.size();
  }
  PlanReport report() { return {panel_.graph(), plan_, options_, contradictions_, nullptr}; }
  std::string text() { return plan_text(report()); }

  SmallPanel panel_;
  Plan plan_;
  PlanOptions options_;
  std::size_t contradictions_ = 0;
};

using testing_support::has;

TEST_F(PlanReportTest, OneIsToldAsOne) {
  plan_reading("K5:A1", "K6:A1", {"@3"});
  plan_.at_rest = plan_.least_at_rest = 1;
  contradictions_ = 1;
  EXPECT_TRUE(has(text(), "  1 reading proves 1 of 1 element (")) << text();
  EXPECT_TRUE(has(text(), "  1 reading at rest; no plan has fewer of those\n")) << text();
  EXPECT_TRUE(has(text(), "  1 reading contradicts the drawing: run compare first.")) << text();
}

TEST_F(PlanReportTest, ProbeThatStaysIsTold) {
  plan_reading("X1:1.ext", "G1:+", {"1", "X1:1"});
  plan_reading("G1:+", "=GD2-K1:A1", {"2"});
  plan_reading("K5:A1", "K6:A1", {"@3"});
  EXPECT_TRUE(has(text(),
                  "      one probe  the other   shows  proves\n"
                  "  P1  G1:+       X1:1.ext    beep   wire 1; terminal X1:1 (sheets 1.1, 1.2)\n"
                  "  P2  stays      =GD2-K1:A1  beep   wire 2 (sheets 1.1, 1.2)\n"
                  "  P3  K5:A1      K6:A1       beep   wire @3 (sheet 1.3)\n"))
      << text();
}

TEST_F(PlanReportTest, LeadsAreNamedWhereTheyMatter) {
  plan_reading("G1:+", "X1:1.ext", {"1"});
  plan_.readings.back().polarity_matters = true;
  EXPECT_TRUE(has(text(), "P1  G1:+ (red)  X1:1.ext (black)  beep")) << text();
}

TEST_F(PlanReportTest, ReadingThatProvesNothingShowsTwoPointsApart) {
  plan_reading("G1:+", "K5:A1", {}, Expected::open);
  EXPECT_TRUE(has(text(), "no beep  shows them apart")) << text();
}

TEST_F(PlanReportTest, ConditionIsToldInFullAndToBePutBack) {
  plan_.conditions.push_back(
      {"A0=unplugged;A1=unplugged;A2=unplugged;A3=unplugged;A4=unplugged;A5=unplugged", {}, 0});
  plan_reading("K5:A1", "K6:A1", {"@3"});
  plan_.readings.back().condition = 1;
  EXPECT_TRUE(has(text(), "\nUnplug A0, A1, A2, A3, A4, A5: 1 reading; put it back afterwards\n")) << text();
  EXPECT_TRUE(has(text(), "Put back what was taken out, unplugged or lifted.")) << text();
}

TEST_F(PlanReportTest, LoadsUnpluggedForWantOfTheirOhmsAreNamed) {
  panel_.part("K5", "coil", "A1", "A2", "1.1").part("A1", "electronics", "L+", "M", "1.1");
  plan_.conditions.push_back({"A1=unplugged;K5=unplugged", {}, 0});
  plan_reading("K5:A1", "K6:A1", {"@3"});
  plan_.readings.back().condition = 1;
  EXPECT_TRUE(has(
      text(),
      "\n  The drawing doesn't state the ohms of K5: a buzzer may sound through it. With ohms in parts.csv\n"
      "  less may have to be unplugged.\n"))
      << text();
}

TEST_F(PlanReportTest, GroupTestsSayWhichBundlesGoOnWhichClip) {
  GroupTests tests;
  for (const auto point : {"G1:+", "K5:A1", "K6:A1"}) tests.bundles.push_back({panel_.point(point)});
  tests.codes = {0b00, 0b01, 0b10};
  tests.tests = 2, tests.tests_stuck = 3, tests.tests_locating = 4;
  plan_.group_tests.push_back(tests);
  EXPECT_TRUE(has(text(), "\nGroup tests at rest: 3 bundles of nets, 2 tests\n")) << text();
  EXPECT_TRUE(has(text(), "    bundle 2  BA  K5:A1\n")) << text();
  EXPECT_TRUE(has(text(), "  Test 1: clip A bundles 1, 3; clip B bundles 2\n")) << text();
}

TEST_F(PlanReportTest, LinesKeepTheirWidth) {
  plan_reading("G1:+", "X1:1.ext", {"1", "2", "@3", "X1:1"});
  plan_reading("G1:+", "=GD2-K1:A1", {"2"}, Expected::ohms);
  plan_.not_covered.push_back({panel_.element("1"), WhyNotCovered::load_beside_load, {panel_.element("2")}});
  std::istringstream lines(text());
  for (std::string line; std::getline(lines, line);)
    EXPECT_LE(report::shown_width(line), report::k_line_width) << line;
}

TEST_F(PlanReportTest, SheetIsReadBackAndNoCellIsAFormula) {
  plan_reading("G1:+", "X1:1.ext", {"1", "X1:1"});
  plan_reading("=GD2-K1:A1", "G1:+", {"2"});
  plan_reading("K5:A1", "K6:A1", {"@3"});
  std::string sheet = plan_csv(report());
  EXPECT_EQ(sheet,
            "id,from,to,value,conditions,expect,sheet,proves\r\n"
            "P1,G1:+,X1:1.ext,,,beep,1.1; 1.2,wire 1; terminal X1:1\r\n"
            "P2,'=GD2-K1:A1,G1:+,,,beep,1.2; 1.1,wire 2\r\n"
            "P3,K5:A1,K6:A1,,,beep,1.3,wire @3\r\n");
  const std::string_view blank = "G1:+,,,";
  sheet.replace(sheet.find(blank), blank.size(), "G1:+,beep,,");
  ScopedTempFolder folder;
  const auto readings = load_readings(folder.write("plan.csv", sheet));
  ASSERT_TRUE(readings) << to_text(readings.error().front());
  ASSERT_EQ(readings->rows.size(), 1u);
  EXPECT_EQ(readings->rows[0].from, "=GD2-K1:A1");
  EXPECT_EQ(readings->name(ReadingId{0}), "P2");
  ASSERT_EQ(readings->notes.size(), 2u);
}

}  // namespace
}  // namespace ringtrue
