#include "ringtrue/report/next_report.hpp"

#include <gtest/gtest.h>

#include "tests/report/report_support.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing_support::fault_at;
using testing_support::SmallPanel;

using testing_support::has;

/// The next readings of a strip of three wires, chosen as the command would.
class NextReportTest : public ::testing::Test {
 protected:
  NextReportTest() {
    panel_.wire("1", "K1:A1", "X1:1.int").wire("2", "K2:A1", "X1:2.int").wire("3", "K3:A1", "X1:3.int");
  }

  void read(const std::string& rows, const NextOptions& next_options = {}) {
    rows_ = testing::readings(rows);
    const Comparison comparison = compare(panel_.graph(), rows_, {}).value();
    findings_ = diagnose(panel_.graph(), rows_, comparison, options_);
    next_ = next_readings(panel_.graph(), rows_, comparison, findings_, next_options);
  }
  std::string text() { return next_text({panel_.graph(), rows_, findings_, next_, options_}); }

  SmallPanel panel_;
  DiagnoseOptions options_;
  Readings rows_;
  Findings findings_;
  std::vector<NextReading> next_;
};

// One fault can't open wire 1 and join the two others.
TEST_F(NextReportTest, ReadingsThatNothingExplainsAreTakenAgain) {
  options_.joint = true, options_.max_faults = 1;
  read("K1:A1 X1:1.int open\nK2:A1 K3:A1 beep\n");
  EXPECT_TRUE(has(text(), "Finding 1 of 1\n  Nothing within 1 fault explains it. Take again: R1, R2.\n"))
      << text();
}

TEST_F(NextReportTest, ASearchCutShortIsNotSaidToHaveFoundNothing) {
  options_.joint = true, options_.max_sets = 0;
  read("K1:A1 X1:1.int open\nK2:A1 K3:A1 beep\n");
  EXPECT_TRUE(
      has(text(), "  The search was cut short before it found what explains it. Take again: R1, R2.\n"))
      << text();
  EXPECT_FALSE(has(text(), "Nothing within")) << text();
}

TEST_F(NextReportTest, WhereNoReadingTellsThemApartTheLikeliestIsLookedAtFirst) {
  NextOptions none;
  none.max_readings = 0;
  read("K1:A1 X1:1.int open\n", none);
  EXPECT_TRUE(
      has(text(),
          "  None of the readings tried tells them apart. Begin with the likeliest:\n"
          "  Wire 1 does not conduct from K1:A1 to X1:1.int: missing, broken, or loose at a clamp.\n"))
      << text();
}

TEST_F(NextReportTest, ExplanationsBeyondTheLikeliestAreCounted) {
  read("K1:A1 X1:1.int open\n");
  ASSERT_EQ(next_.at(0).state, NextState::reading);
  Cluster& cluster = findings_.clusters.front();
  Diagnosis rare = cluster.diagnoses.front();
  rare.probability = 0.02;
  cluster.diagnoses.resize(NextOptions{}.max_diagnoses, rare);
  EXPECT_FALSE(has(text(), "Left out")) << text();
  cluster.diagnoses.push_back(rare);
  EXPECT_TRUE(has(text(), "  Left out of account: 1 less likely explanation, 2%.\n")) << text();
  cluster.diagnoses.push_back(rare);
  EXPECT_TRUE(has(text(), "  Left out of account: 2 less likely explanations, 4% in all.\n")) << text();
}

}  // namespace
}  // namespace ringtrue
