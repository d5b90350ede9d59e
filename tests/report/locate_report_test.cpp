#include "ringtrue/report/locate_report.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "tests/report/report_support.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

// The loop from plus to minus: G1:1, F1:1, F1:2, S1:13, S1:14, A1:0, A1:M, X2:1.int, X2:1.ext, G1:2.
constexpr const char* k_panel =
    "part G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
    "part F1 fuse 1 2\npart S1 contact-no 13 14\n1 G1:1 F1:1\n2 F1:2 S1:13\n3 S1:14 A1:0\n"
    "4 A1:M X2:1.int\n5 X2:1.ext G1:2\nchannel A1:0 DI S1:14 S1:13 A1:M\n";

using testing_support::has;

class LocateReportTest : public ::testing::Test {
 protected:
  LocateReportTest() : net_(netlist(k_panel)), graph_(net_) {}

  /// The words of a report, its line breaks and indents taken out.
  static std::string in_one_line(const std::string& text) {
    std::istringstream words(text);
    std::string line, word;
    while (words >> word) line += (line.empty() ? "" : " ") + word;
    return line;
  }

  void read(const std::string& rows, const Events& events = {}) {
    rows_ = readings(rows);
    const Comparison comparison = compare(graph_, rows_, events).value();
    loop_ = input_loop(graph_, 0).value();
    found_ = loop_readings(graph_, loop_, rows_, events, comparison);
    measured_.clear();
    for (const LoopReadings::Taken& taken : found_.taken) measured_.push_back(taken.volts);
    evidence_ = loop_evidence(loop_, graph_, findings_, {});
    located_ = locate(loop_, measured_, evidence_);
  }
  [[nodiscard]] LocateReport report() const {
    return {graph_, loop_, measured_, evidence_, located_, SplitBy::count, rows_, findings_, found_};
  }
  [[nodiscard]] std::string text(Detail detail = Detail::short_lists) const {
    return in_one_line(locate_text(report(), detail));
  }

  Netlist net_;
  ConductionGraph graph_;
  Readings rows_;
  InputLoop loop_;
  LoopReadings found_;
  std::vector<LoopVolts> measured_;
  Findings findings_;
  LoopEvidence evidence_;
  Located located_;
};

TEST_F(LocateReportTest, EachReadingLeftOutHasItsReason) {
  Events repair;
  repair.file = "events.csv";
  Event opened;
  opened.time = "2026-03-02T08:00:00Z", opened.kind = EventKind::repair, opened.points = {"F1:1"};
  opened.line = 2;
  repair.rows.push_back(opened);
  read(
      "F1:1 - 24V power=on 2026-03-02T06:00:00Z\n"
      "A1:0 - lit power=on 2026-03-02T06:30:00Z\n"
      "G1:1 - 24V power=on 2026-03-02T07:00:00Z\n"
      "G1:1 X2:1.ext 24V power=on 2026-03-02T10:00:00Z\n"
      "X2:1 - 0V power=on;S1=operated 2026-03-02T10:01:00Z\n"
      "S1:13 - 0V power=on;F1=out 2026-03-02T10:02:00Z\n"
      "S1:14 - 0V power=on 2026-03-02T10:03:00Z\n"
      "F1:2 - 0V power=on 2026-03-02T10:04:00Z\n"
      "F1:2 - 24V power=on 2026-03-02T10:05:00Z\n",
      repair);
  EXPECT_TRUE(
      has(text(Detail::everything),
          "Voltages taken from readings: R9 at F1:2. Not taken: R1 at F1:1 (the input was lit later), "
          "R3 at G1:1 (a clamp of the loop was opened later), R4 at G1:1 (black lead elsewhere), R5 at "
          "X2:1 (no side named), R6 at S1:13 (its condition opens the loop), R7 at S1:14 (nothing says "
          "that the input was driven), R8 at F1:2 (read again later). "))
      << text(Detail::everything);
  // A reading that was taken again is no news.
  EXPECT_TRUE(has(text(), "R4 at G1:1 (black lead elsewhere), R5 at X2:1 (no side named), 2 more. "))
      << text();
}

TEST_F(LocateReportTest, InputSeenLitHasNothingToLocate) {
  read("A1:0 - lit power=on\n");
  EXPECT_TRUE(has(text(), " R1 found it lit: if it still is, there is nothing to locate. ")) << text();
  EXPECT_EQ(nlohmann::json::parse(locate_json(report())).at("seen"),
            (nlohmann::json{{"id", "R1"}, {"value", "lit"}}));
  read("A1:0 - dark power=on;S1=operated\n");
  EXPECT_TRUE(has(text(), " R1 found it dark. ")) << text();
}

TEST_F(LocateReportTest, SuspectsThatNothingPartsAreNamedTogether) {
  read(
      "G1:1 - 24V power=on;S1=operated\nF1:1 - 24V power=on;S1=operated\n"
      "F1:2 - 12V power=on;S1=operated\nS1:13 - 0V power=on;S1=operated\n");
  EXPECT_TRUE(has(text(), " F1:2 shows the voltage neither of plus nor of minus: measure it again. "))
      << text();
  EXPECT_TRUE(text().ends_with(
      " 2 suspects of 9 segments. The break or a poor joint is in fuse F1:1-2 or wire 2: what lies between "
      "shows neither voltage."))
      << text();
}

}  // namespace
}  // namespace ringtrue
