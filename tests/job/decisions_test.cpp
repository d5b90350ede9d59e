// Decisions about findings in a job.
#include "job_support.hpp"
#include "ringtrue/job/salvage.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobDecisions : public JobTest {
 protected:
  static DecisionRow decision(std::string_view id, std::string_view finding, std::string_view what) {
    DecisionRow row;
    row.finding = finding, row.decision = what, row.by = "A", row.time = "2026-03-02T09:00:00Z";
    row.readings = finding, row.points = "X1:5.int", row.text = "why", row.revision = "1", row.id = id;
    return row;
  }

  /// Ids of those that stand.
  std::string standing(const Job& job) {
    const Decisions decisions = must(job.panel()).decisions;
    std::string text;
    for (const std::size_t i : standing_decisions(decisions))
      text += (text.empty() ? "" : " ") + decisions.rows[i].id;
    return text;
  }
};

TEST_F(JobDecisions, TheLastOfAFindingStandsAndAllStay) {
  Job job = small_job();
  must(job.append(decision("D1", "open wire 1", "repair")));
  must(job.append(decision("D2", "open wire 2", "accepted")));
  EXPECT_EQ(standing(job), "D1 D2");
  must(job.append(decision("D3", "open wire 1", "drawing")));
  EXPECT_EQ(standing(job), "D2 D3");
  must(job.append(decision("D4", "open wire 2", "withdrawn")));
  EXPECT_EQ(standing(job), "D3");
  EXPECT_EQ(must(job.panel()).decisions.rows.size(), 4u);
}

TEST_F(JobDecisions, SentAgainItIsThereOnce) {
  Job job = small_job();
  EXPECT_EQ(must(job.append(decision("D1", "open wire 1", "repair"))), Appended::added);
  EXPECT_EQ(must(job.append(decision("D1", "open wire 1", "repair"))), Appended::already_there);
  EXPECT_EQ(errors_of(job.append(decision("D1", "open wire 1", "drawing")), folder_),
            "a.rtj: id: the job holds another decision under this name (its decision is \"repair\"): found "
            "\"D1\", expected the same row, or a name of its own");
}

TEST_F(JobDecisions, WhatIsWrongWithARowIsSaid) {
  Job job = small_job();
  DecisionRow row = decision("D1", "open wire 1", "accepted");
  row.text = " ";
  EXPECT_EQ(errors_of(job.append(row), folder_),
            "a.rtj: text: the field is empty: expected why it is accepted");
  row = decision("D1", "open wire 1", "ignored");
  EXPECT_EQ(
      errors_of(job.append(row), folder_),
      "a.rtj: decision: unknown word: found \"ignored\", expected repair, drawing, accepted or withdrawn");
  row = decision("D1", "", "repair");
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::missing_field);
  row = decision("D1", "open wire 1", "repair");
  row.by = "";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::missing_field);
  row.by = "A", row.time = "yesterday";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::bad_time);
  row.time = "2026-03-02T09:00:00Z";
  for (const char* const revision : {"B", "0", "-1", "1.5", "1e3", "1 "}) {
    row.revision = revision;
    EXPECT_EQ(first_code(job.append(row)), ErrorCode::bad_number) << revision;
  }
  row.revision = "1", row.id = "";
  EXPECT_EQ(first_code(job.append(row)), ErrorCode::missing_field);
  EXPECT_TRUE(must(job.panel()).decisions.rows.empty());
}

TEST_F(JobDecisions, ExportedAndImportedTheyAreTheSame) {
  Job job = small_job();
  must(job.append(decision("D1", "open wire 1", "repair")));
  must(job.append(decision("D2", "open wire 1", "accepted")));
  must(job.append(decision("D3", "swap, \"quoted\"; and more", "drawing")));
  ASSERT_TRUE(job.export_to(at("out")));
  ASSERT_TRUE(salvage_job(at("a.rtj"), at("salvaged")));
  EXPECT_EQ(bytes_of(at("salvaged/decisions.csv")), bytes_of(at("out/decisions.csv")));

  Job other = must(create_job(at("b.rtj"), {at("GD1")}));
  JobRows rows;
  rows.decisions = must(load_decisions(at("out/decisions.csv")));
  EXPECT_EQ(must(other.append(rows)).decisions, 3u);
  EXPECT_EQ(must(other.append(rows)).decisions, 0u);
  EXPECT_EQ(standing(other), "D2 D3");
  ASSERT_TRUE(other.export_to(at("again")));
  EXPECT_EQ(bytes_of(at("again/decisions.csv")), bytes_of(at("out/decisions.csv")));
}

TEST_F(JobDecisions, ARowStaysAsItIs) {
  Job job = small_job();
  must(job.append(decision("D1", "open wire 1", "repair")));
  EXPECT_EQ(sql(at("a.rtj"), "UPDATE decision SET decision = 'accepted'"), "rows of a job are never changed");
  EXPECT_EQ(sql(at("a.rtj"), "DELETE FROM decision"), "rows of a job are never deleted");
  EXPECT_EQ(sql(at("a.rtj"),
                "INSERT OR REPLACE INTO decision (finding, decision, time, by, id) VALUES ('x', 'repair', "
                "'t', 'A', 'D1')"),
            "rows of a job are never replaced");
  EXPECT_EQ(standing(job), "D1");
}

TEST_F(JobDecisions, ANewOneIsNews) {
  Job job = small_job();
  const JobMark mark = must(job.news({})).mark;
  must(job.append(decision("D1", "open wire 1", "repair")));
  const JobNews news = must(job.news(mark));
  ASSERT_TRUE(news.panel);
  EXPECT_EQ(news.panel->decisions.rows.size(), 1u);
  EXPECT_EQ(must(job.news(news.mark)).mark, news.mark);
  EXPECT_FALSE(must(job.news(news.mark)).panel);
}

TEST_F(JobDecisions, AnOlderJobHasNone) {
  sql(at("a.rtj"), bytes_of(fs::path(RINGTRUE_JOBS) / "version_4.sql"));
  Job job = must(open_job(at("a.rtj")));
  EXPECT_EQ(standing(job), "");
  must(job.append(decision("D1", "open wire 1", "repair")));
  EXPECT_EQ(standing(job), "D1");
}

}  // namespace
}  // namespace ringtrue
