#include "ringtrue/report/compare_report.hpp"

#include <nlohmann/json.hpp>

#include "report/report_support.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using nlohmann::json;

/// Readings of a small panel, judged and diagnosed as the command would.
class CompareReportTest : public ::testing::Test {
 protected:
  CompareReportTest() {
    panel_.wire("1", "G1:+", "X1:1.int", "1.1")
        .wire("2", "A1:0.0", "X1:2.int", "1.2")
        .wire("3", "A1:0.1", "X1:3.int", "1.3")
        .part("X1:1", "terminal", "int", "ext", "1.1")
        .part("X1:2", "terminal", "int", "ext", "1.2")
        .part("X1:3", "terminal", "int", "ext", "1.3")
        .part("B1", "contact-no", "1", "2", "1.2", "field")
        .potential("+24V", "dc+", "G1:+");
    ChannelRow full;
    full.point = "A1:0.0";
    full.type = "DI";
    full.tag = "HOPPER_FULL";
    full.field = "X1:2.ext";
    panel_.channel(full);
    ChannelRow empty;
    empty.point = "A1:0.1";
    empty.type = "DI";
    empty.tag = "HOPPER_EMPTY";
    empty.field = "X1:3.ext";
    panel_.channel(empty);
  }

  void read(std::string_view from, std::string_view to, std::string_view value, std::string_view id = "") {
    ReadingRow row;
    row.from = from;
    row.to = to;
    row.value = value;
    row.id = id;
    readings_.add(row, next_line_++);
  }

  std::string text(Detail detail = Detail::short_lists) { return compare_text(report(), detail); }
  json as_json() { return json::parse(compare_json(report())); }

  DiagnoseOptions options_;

 private:
  const CompareReport& report() {
    if (report_) return *report_;
    file_ = std::make_unique<Readings>(*readings_.finish());
    comparison_ = std::make_unique<Comparison>(*compare(panel_.graph(), *file_, {}));
    findings_ = std::make_unique<Findings>(diagnose(panel_.graph(), *file_, *comparison_, options_));
    notes_ = std::make_unique<ReadingNotes>(
        note_readings(panel_.graph(), *file_, *comparison_, findings_->proven, 6));
    report_ = std::make_unique<CompareReport>(
        CompareReport{panel_.graph(), *file_, *comparison_, *findings_, *notes_, options_});
    return *report_;
  }

  SmallPanel panel_;
  ReadingsBuilder readings_{"readings.csv"};
  std::uint32_t next_line_ = 2;
  std::unique_ptr<Readings> file_;
  std::unique_ptr<Comparison> comparison_;
  std::unique_ptr<Findings> findings_;
  std::unique_ptr<ReadingNotes> notes_;
  std::unique_ptr<CompareReport> report_;
};

using testing_support::has;

TEST_F(CompareReportTest, OpenWireIsAFindingWithItsReading) {
  read("A1:0.0", "X1:2.int", "open", "R1");
  read("A1:0.1", "X1:3.int", "beep", "R2");
  const std::string report = text();
  EXPECT_TRUE(has(report, "Panel GD1, revision B: 2 readings")) << report;
  EXPECT_TRUE(has(report, "1 agree, 1 disagree")) << report;
  EXPECT_TRUE(has(report, "Finding 1 of 1")) << report;
  EXPECT_TRUE(has(report, "Wire 2 does not conduct from A1:0.0 to X1:2.int (sheet 1.2)")) << report;
  EXPECT_TRUE(has(report, "R1  A1:0.0 to X1:2.int  read open, drawn a beep")) << report;
}

TEST_F(CompareReportTest, ChannelsAreCountedWhereThereAreSome) {
  read("A1:0.0", "X1:2.int", "beep");
  EXPECT_TRUE(has(text(), "Channels: ")) << text();
}

TEST(CompareReportWithoutChannels, NoneAreCounted) {
  SmallPanel panel;
  panel.wire("1", "G1:+", "X1:1.int", "1.1").wire("2", "A1:0.0", "X1:2.int", "1.2");
  ReadingsBuilder builder("readings.csv");
  ReadingRow row;
  row.from = "G1:+", row.to = "X1:1.int", row.value = "beep";
  builder.add(row, 2);
  const Readings readings = *builder.finish();
  const Comparison comparison = *compare(panel.graph(), readings, {});
  const DiagnoseOptions options;
  const Findings findings = diagnose(panel.graph(), readings, comparison, options);
  const ReadingNotes notes = note_readings(panel.graph(), readings, comparison, findings.proven, 6);
  const std::string told =
      compare_text({panel.graph(), readings, comparison, findings, notes, options}, Detail::short_lists);
  EXPECT_TRUE(has(told, "1 agree")) << told;
  EXPECT_FALSE(has(told, "hannel")) << told;
}

TEST_F(CompareReportTest, ReportEndsWithTheCaution) {
  read("A1:0.0", "X1:2.int", "beep");
  EXPECT_TRUE(text().ends_with(
      "Prove dead before any continuity reading. Local codes, the site's isolation procedure and licensed\n"
      "persons decide.\n"))
      << text();
}

TEST_F(CompareReportTest, AgreementIsSaidToBeWithThisRevisionOnly) {
  read("A1:0.0", "X1:2.int", "beep");
  EXPECT_TRUE(has(text(), "No findings: no reading contradicts this revision of the drawing.")) << text();
}

TEST_F(CompareReportTest, ListsAreSaidToGoDownToTheSharesAskedFor) {
  read("A1:0.0", "X1:2.int", "open");
  options_.max_faults = 2, options_.least_share = 0.025, options_.least_single_share = 1e-6;
  EXPECT_TRUE(has(
      text(),
      "Listed are all single faults that explain the readings, down to 1/1,000,000 of the probability of\n"
      "the first explanation, and all sets of up to 2 faults, down to 2.5% of it.\n"))
      << text();
}

TEST_F(CompareReportTest, FindingsExplainedApartAreSaidToBe) {
  read("A1:0.1", "X1:3.int", "open");
  read("G1:+", "X1:1.int", "open");
  read("G1:+", "X1:3.int", "open");
  read("G1:+", "A1:0.1", "open");
  EXPECT_TRUE(has(text(), "Listed for each finding are")) << text();
  EXPECT_TRUE(has(text(), "(--joint explains them together)")) << text();
}

TEST_F(CompareReportTest, FindingsExplainedTogetherAreOne) {
  read("A1:0.1", "X1:3.int", "open");
  read("G1:+", "X1:1.int", "open");
  options_.joint = true;
  EXPECT_TRUE(has(text(), "Finding 1 of 1")) << text();
  EXPECT_FALSE(has(text(), "--joint")) << text();
}

TEST_F(CompareReportTest, ASearchCutShortIsSaidToBe) {
  read("A1:0.1", "X1:3.int", "open");
  read("G1:+", "X1:1.int", "open");
  read("A1:0.0", "X1:2.int", "open");
  options_.joint = true, options_.max_sets = 0;
  EXPECT_TRUE(has(text(), "The search was cut short before it found what explains these readings")) << text();
  EXPECT_EQ(as_json()["complete"]["up_to"], 0);
}

TEST_F(CompareReportTest, FindingsThatDoNotHoldTogetherAreSaidNotTo) {
  read("X1:1.int", "X1:2.int", "beep", "R1");
  read("X1:2.int", "X1:3.int", "beep", "R2");
  read("X1:1.int", "X1:3.int", "open", "R3");
  options_.max_faults = 1;
  EXPECT_TRUE(
      has(text(),
          "Findings 1, 2 stand in each other's way: with the first explanation of each, R3 would have come\n"
          "out otherwise. Not all of them hold.\n"))
      << text();
}

// One fault can't both open wire 2 and join the two others, so R1 with either beep is a contradiction.
TEST_F(CompareReportTest, ReadingsThatContradictEachOtherAreToBeTakenFirst) {
  read("A1:0.0", "X1:2.int", "open", "R1");
  read("G1:+", "A1:0.1", "beep", "R2");
  read("G1:+", "X1:3.int", "beep", "R3");
  options_.joint = true, options_.max_faults = 1;
  EXPECT_TRUE(has(text(), "Nothing within 1 fault explains these readings beside those that agree"))
      << text();
  const bool names_r2 = has(text(), "Begin with R1, R2: these contradict each other by themselves");
  EXPECT_NE(names_r2, has(text(), "Begin with R1, R3: these contradict each other by themselves")) << text();
}

TEST(CompareReportOfSeveral, EachFindingWhoseSearchWasCutShortIsNamed) {
  SmallPanel panel;
  panel.wire("1", "K1:A1", "X1:1.int").wire("2", "K2:A1", "X1:2.int").wire("3", "K3:A1", "X1:3.int");
  const Readings readings =
      testing::readings("K1:A1 X1:1.int open\nK2:A1 X1:2.int open\nK3:A1 X1:3.int open\n");
  const Comparison comparison = *compare(panel.graph(), readings, {});
  const DiagnoseOptions options;
  Findings findings;
  for (const char* wire : {"1", "2", "3"}) {
    Cluster cluster;
    cluster.readings = {ReadingId{static_cast<std::uint32_t>(findings.clusters.size())}};
    cluster.diagnoses.emplace_back();
    cluster.diagnoses.back().faults = {fault_at(FaultKind::open, panel.element(wire))};
    cluster.complete_up_to = options.max_faults;
    findings.clusters.push_back(cluster);
  }
  findings.proven.assign(panel.graph().element_count(), 0);
  const auto told = [&] {
    const ReadingNotes notes = note_readings(panel.graph(), readings, comparison, findings.proven, 6);
    return compare_text({panel.graph(), readings, comparison, findings, notes, options});
  };
  EXPECT_FALSE(has(told(), "cut short")) << told();
  findings.clusters[1].complete_up_to = 0, findings.clusters[1].cut_short = true;
  EXPECT_TRUE(has(told(), "For\nfinding 2 the search was cut short; likelier ones may be missing."))
      << told();
  findings.clusters[2].complete_up_to = 0, findings.clusters[2].cut_short = true;
  EXPECT_TRUE(has(told(), "For\nfindings 2, 3 the search was cut short; likelier ones may be missing."))
      << told();
}

TEST_F(CompareReportTest, LinesFitThePage) {
  read("A1:0.0", "X1:2.int", "open");
  read("A1:0.0", "X1:3.int", "beep");
  std::istringstream lines(text());
  for (std::string line; std::getline(lines, line);) EXPECT_LE(line.size(), 100u) << line;
}

TEST_F(CompareReportTest, JsonNamesTheFaultItsRowAndItsReading) {
  read("A1:0.0", "X1:2.int", "open", "R1");
  const json finding = as_json()["findings"][0];
  EXPECT_EQ(finding["cluster"], 1);
  EXPECT_EQ(finding["rank"], 1);
  EXPECT_EQ(finding["explains"], json({"R1"}));
  EXPECT_EQ(finding["next_reading"], nullptr);
  const json fault = finding["faults"][0];
  EXPECT_EQ(fault["kind"], "open");
  EXPECT_EQ(fault["elements"], json({"2"}));
  EXPECT_EQ(fault["ends"], json({"A1:0.0", "X1:2.int"}));
  EXPECT_EQ(fault["rows"][0], json({{"wire", "2"},
                                    {"from", "A1:0.0"},
                                    {"to", "X1:2.int"},
                                    {"sheet", "1.2"},
                                    {"file", "conductors.csv"},
                                    {"line", 3}}));
}

TEST_F(CompareReportTest, ProbabilitiesOfAClusterAddUpToOneAtMost) {
  read("A1:0.0", "X1:2.int", "open");
  double sum = 0;
  const json report = as_json();
  for (const json& finding : report["findings"]) sum += finding["probability"].get<double>();
  EXPECT_GT(sum, 0.9);
  EXPECT_LE(sum, 1 + 1e-9);
}

TEST_F(CompareReportTest, AReadingWithoutIdHasItsLineNumber) {
  read("A1:0.0", "X1:2.int", "beep");
  read("A1:0.1", "X1:3.int", "open");
  EXPECT_EQ(as_json()["findings"][0]["explains"], json({"3"}));
}

TEST_F(CompareReportTest, FaultyChannelNamesItsFinding) {
  read("A1:0.0", "X1:2.int", "open");
  const json channels = as_json()["channels"];
  EXPECT_EQ(channels[0]["tag"], "HOPPER_FULL");
  EXPECT_EQ(channels[0]["state"], "faulty");
  EXPECT_EQ(channels[0]["clusters"], json({1}));
  EXPECT_EQ(channels[1]["state"], "unproven");
  EXPECT_EQ(channels[1]["unproven_elements"], json({"3", "X1:3"}));
  EXPECT_TRUE(has(text(), "faulty    A1:0.0 HOPPER_FULL: finding 1\n")) << text();
  EXPECT_TRUE(has(text(), "unproven  A1:0.1 HOPPER_EMPTY: not proven wire 3; terminal X1:3\n")) << text();
}

TEST_F(CompareReportTest, FieldDevicesAreNotListedAsUnproven) {
  read("A1:0.0", "X1:2.int", "beep");
  const json report = as_json();
  for (const json& element : report["unproven"]) EXPECT_NE(element["name"], "B1:1-2");
}

TEST_F(CompareReportTest, ReadingAtAnUnknownPointCarriesTheNearestNames) {
  read("A1:0.0", "X1:22.int", "beep", "R9");
  const json unknown = as_json()["unknown"];
  ASSERT_EQ(unknown.size(), 1u);
  EXPECT_EQ(unknown[0]["reading"], "R9");
  EXPECT_FALSE(unknown[0]["nearest"].empty());
  EXPECT_TRUE(has(text(), "At points the drawing lacks, not judged: R9")) << text();
}

TEST_F(CompareReportTest, ContradictingReadingsAreUnstable) {
  read("A1:0.0", "X1:2.int", "beep", "R1");
  read("X1:2.int", "A1:0.0", "open", "R2");
  EXPECT_EQ(as_json()["unstable"], json({"R1", "R2"}));
  EXPECT_EQ(as_json()["summary"]["clusters"], 0);
}

}  // namespace
}  // namespace ringtrue
