// Which revision of the netlist each row of a job was added under.
#include <fstream>

#include "job_support.hpp"
#include "ringtrue/job/salvage.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobRevisions : public JobTest {
 protected:
  /// A job of three revisions, the second as built, with a reading of each and an event of the second.
  Job revised_job() {
    Job job = small_job();
    must(job.append(reading("R1")));
    folder_.write("GD1-B/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,K1:A2,X1:6.int\n");
    folder_.write("GD1-C/conductors.csv", "wire,from,to\n1,K1:A1,X1:6.int\n2,K1:A2,X1:6.int\n");
    must(job.append_netlist(at("GD1-B"), Rewired::as_built));
    must(job.append(reading("R2")));
    must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
    must(job.append_netlist(at("GD1-C")));
    must(job.append(reading("R3")));
    IoResultRow row;
    row.channel = "DI0", row.stimulus = "jumper", row.verdict = "pass", row.by = "A", row.id = "I1";
    row.time = "2026-03-02T09:00:00Z";
    must(job.append(row));
    return job;
  }

  /// `R1 under 1, ...` of readings, then events and results.
  static std::string under(const Panel& panel) {
    std::string text;
    const auto say = [&](const std::string& id, std::string_view mark) {
      text += (text.empty() ? "" : " ") + id + ":" + std::to_string(netlist_mark(mark).value().number);
    };
    for (std::uint32_t i = 0; i < panel.readings.rows.size(); ++i)
      say(panel.readings.name(ReadingId{i}), panel.readings.text.get(ReadingText::netlist, i));
    for (const Event& event : panel.events.rows) say(event.id, event.netlist);
    for (const IoResult& result : panel.io_results.rows) say(result.id, result.netlist);
    return text;
  }
};

TEST_F(JobRevisions, EachRowKnowsTheNewestRevisionOfItsTime) {
  const Job job = revised_job();
  const Panel panel = must(job.panel());
  EXPECT_EQ(under(panel), "R1:1 R2:2 R3:3 E1:2 I1:3");
  ASSERT_EQ(panel.earlier.size(), 2u);
  EXPECT_EQ(panel.earlier[0].number, 1u);
  EXPECT_TRUE(panel.earlier[0].next_is_as_built);
  EXPECT_EQ(panel.earlier[1].netlist.conductors.size(), 2u);
  EXPECT_FALSE(panel.earlier[1].next_is_as_built);
}

TEST_F(JobRevisions, ContentsCountTheReadingsUnderEach) {
  const JobContents contents = must(revised_job().contents());
  ASSERT_EQ(contents.netlists.size(), 3u);
  for (const JobNetlist& netlist : contents.netlists) EXPECT_EQ(netlist.readings, 1u);
  EXPECT_FALSE(contents.netlists[0].is_as_built);
  EXPECT_TRUE(contents.netlists[1].is_as_built);
  EXPECT_FALSE(contents.netlists[2].is_as_built);
}

TEST_F(JobRevisions, ANetlistThatIsWrongIsNoRevision) {
  Job job = small_job();
  folder_.write("GD2/conductors.csv", "wire,from,to\n1,K1:A1,\n");
  EXPECT_EQ(errors_of(job.append_netlist(at("GD2")), folder_),
            "GD2/conductors.csv:2: to: conductor 1 has an end missing: expected a point at both ends; only a "
            "spare core (kind core) may lie loose");
  EXPECT_EQ(must(job.contents()).netlists.size(), 1u);
}

TEST_F(JobRevisions, OneRevisionAloneHasNoEarlierOnes) {
  Job job = small_job();
  must(job.append(reading("R1")));
  EXPECT_TRUE(must(job.panel()).earlier.empty());
  must(job.append_netlist(at("GD1")));
  EXPECT_TRUE(must(job.panel()).earlier.empty()) << "the same files once more";
}

TEST_F(JobRevisions, RevisionsThatNoRowIsOfAreNotLoaded) {
  Job job = small_job();
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B")));
  must(job.append(reading("R1")));
  EXPECT_TRUE(must(job.panel()).earlier.empty());
}

TEST_F(JobRevisions, ThoseThatADecisionIsOfAreLoaded) {
  Job job = small_job();
  DecisionRow row;
  row.finding = "open wire 1 (K1:A1, X1:5.int)", row.decision = "repair", row.by = "A", row.id = "D1";
  row.time = "2026-03-02T09:00:00Z", row.revision = "1";
  must(job.append(row));
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B")));
  EXPECT_EQ(must(job.panel()).earlier.size(), 1u);
}

TEST_F(JobRevisions, AReadingSentAgainAfterARevisionIsThereAlready) {
  Job job = small_job();
  must(job.append(reading("R1")));
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B")));
  EXPECT_EQ(must(job.append(reading("R1"))), Appended::already_there);
  EXPECT_EQ(under(must(job.panel())), "R1:1");
}

TEST_F(JobRevisions, ACorrectionIsOfTheRevisionOfWhatItCorrects) {
  Job job = revised_job();
  must(job.append(reading("R4", "open"), "R1"));
  ReadingRow anew = reading("R5");
  anew.time = "2026-03-02T09:00:00Z";
  must(job.append(anew, "R2"));
  EXPECT_EQ(under(must(job.panel())), "R3:3 R4:1 R5:3 E1:2 I1:3") << "R5 was read at another time";
}

TEST_F(JobRevisions, AnExportedJobIsMadeAnewWithTheSameMarks) {
  const Job job = revised_job();
  ASSERT_TRUE(job.export_to(at("out")));
  Job made = must(create_job(at("b.rtj"), {at("out/netlist-1")}));
  must(made.append_netlist(at("out/netlist-2"), Rewired::as_built));
  must(made.append_netlist(at("out/netlist")));
  JobRows rows;
  rows.readings = must(load_readings(at("out/readings.csv")));
  rows.events = must(load_events(at("out/events.csv")));
  rows.io_results = must(load_io_results(at("out/results.csv")));
  EXPECT_EQ(must(made.append(rows)).readings, 3u);
  EXPECT_EQ(under(must(made.panel())), under(must(job.panel())));
  ASSERT_TRUE(made.export_to(at("again")));
  for (const char* file : {"readings.csv", "events.csv", "results.csv"})
    EXPECT_EQ(bytes_of(at("again") / file), bytes_of(at("out") / file)) << file;
}

TEST_F(JobRevisions, ARowOfANetlistThatTheJobLacksIsRefused) {
  ASSERT_TRUE(revised_job().export_to(at("out")));
  Job other = must(create_job(at("b.rtj"), {at("out/netlist")}));
  JobRows rows;
  rows.readings = must(load_readings(at("out/readings.csv")));
  const auto added = other.append(rows);
  ASSERT_FALSE(added);
  ASSERT_EQ(added.error().size(), 2u) << "each revision once";
  EXPECT_EQ(added.error()[0].place.line, 2u);
  EXPECT_EQ(added.error()[0].place.field, "netlist");
  EXPECT_EQ(added.error()[0].code, ErrorCode::unknown_object);
  EXPECT_TRUE(must(other.panel()).readings.rows.empty());
}

TEST_F(JobRevisions, AnImportedReadingOfAnEarlierRevisionIsThePanelAnew) {
  Job job = revised_job();
  ASSERT_TRUE(job.export_to(at("out")));
  const JobMark mark = must(job.news({})).mark;
  std::string csv = bytes_of(at("out/readings.csv"));
  folder_.write("more.csv", csv.substr(0, csv.find("\n") + 1) + "K1:A2,X1:6.int,beep,,,,,,,,R9,,," +
                                csv.substr(csv.find(",1 ") + 1, 14) + "\n");
  JobRows rows;
  rows.readings = must(load_readings(at("more.csv")));
  must(job.append(rows));
  const JobNews news = must(job.news(mark));
  ASSERT_TRUE(news.panel);
  EXPECT_EQ(under(*news.panel), "R1:1 R2:2 R3:3 R9:1 E1:2 I1:3");
}

TEST_F(JobRevisions, WhatIsSavedOfADamagedJobKeepsItsMarks) {
  ASSERT_TRUE(revised_job().export_to(at("out")));
  must(salvage_job(at("a.rtj"), at("saved")));
  for (const char* file : {"readings.csv", "events.csv", "results.csv"})
    EXPECT_EQ(bytes_of(at("saved") / file), bytes_of(at("out") / file)) << file;
}

}  // namespace
}  // namespace ringtrue
