// What came into a job since somebody read it last.
#include "job_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobsNews : public JobTest {
 protected:
  static std::string ids_of(const Readings& readings) {
    std::string text;
    for (std::uint32_t i = 0; i < readings.rows.size(); ++i)
      text += (text.empty() ? "" : " ") + readings.name(ReadingId{i});
    return text;
  }
  /// `readings R1 R2`, or `panel R1 R2`.
  static std::string said(const JobNews& news) {
    return news.panel ? "panel " + ids_of(news.panel->readings) : "readings " + ids_of(news.readings);
  }
  /// The news since the mark, which goes on to them.
  std::string next(const Job& job, JobMark& mark) {
    const JobNews news = must(job.news(mark));
    mark = news.mark;
    return said(news);
  }
};

TEST_F(JobsNews, FromTheStartEverything) {
  Job job = small_job();
  JobMark mark;
  EXPECT_EQ(next(job, mark), "panel ");
  EXPECT_EQ(mark, (JobMark{1, 0, 0, 0, 0}));
  must(job.append(reading("R1")));
  must(job.append(reading("R2", "open"), "R1"));
  must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
  must(job.append(one_meter("M1", "20")));
  const JobNews all = must(job.news({}));
  EXPECT_EQ(said(all), "panel R2");
  EXPECT_EQ(all.mark, (JobMark{1, 2, 1, 1, 0}));
  EXPECT_EQ(all.panel->netlist.conductors.size(), 1u);
  EXPECT_EQ(all.panel->events.rows.size(), 1u);
  EXPECT_EQ(all.panel->meters.rows.size(), 1u);
  EXPECT_TRUE(all.readings.rows.empty());
}

TEST_F(JobsNews, PlainReadingsAloneAreGivenAsTheyWereAdded) {
  Job job = small_job();
  JobMark mark;
  (void)next(job, mark);
  must(job.append(reading("R2")));
  must(job.append(reading("R1", "1.5k")));
  const JobNews news = must(job.news(mark));
  EXPECT_EQ(said(news), "readings R2 R1");
  EXPECT_EQ(news.readings.rows[1].value, (ReadingValue{ValueKind::ohms, 1500}));
  EXPECT_EQ(news.mark.readings, mark.readings + 2);
  EXPECT_EQ(next(job, mark), "readings R2 R1");
  EXPECT_EQ(next(job, mark), "readings ");
}

TEST_F(JobsNews, ResultsComeByThemselves) {
  Job job = small_job();
  JobMark mark;
  (void)next(job, mark);
  IoResultRow row;
  row.channel = "DI0", row.stimulus = "jumper", row.verdict = "pass", row.by = "A", row.id = "I1";
  row.time = "2026-03-02T09:00:00Z";
  must(job.append(row));
  must(job.append(reading("R1")));
  const JobNews both = must(job.news(mark));
  EXPECT_EQ(said(both), "readings R1");
  ASSERT_TRUE(both.io_results);
  EXPECT_EQ(both.io_results->rows.size(), 1u);
  row.id = "I2", row.verdict = "withdrawn", row.supersedes = "I1";
  must(job.append(row));
  const JobNews withdrawn = must(job.news(both.mark));
  ASSERT_TRUE(withdrawn.io_results);
  EXPECT_TRUE(withdrawn.io_results->rows.empty());
  EXPECT_FALSE(must(job.news(withdrawn.mark)).io_results);
}

TEST_F(JobsNews, AnythingElseIsThePanelAnew) {
  Job job = small_job();
  JobMark mark;
  must(job.append(reading("R1")));
  must(job.append(reading("R2")));
  (void)next(job, mark);

  must(job.append(reading("R3", "open"), "R1"));
  EXPECT_EQ(next(job, mark), "panel R2 R3") << "a correction";
  must(job.append(reading("W1", ""), "R2"));
  EXPECT_EQ(next(job, mark), "panel R3") << "a withdrawal";
  must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
  EXPECT_EQ(next(job, mark), "panel R3") << "an event";
  must(job.append(one_meter("M1", "20")));
  EXPECT_EQ(next(job, mark), "panel R3") << "a meter";
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B")));
  const JobNews revised = must(job.news(mark));
  EXPECT_EQ(said(revised), "panel R3");
  EXPECT_EQ(revised.panel->netlist.conductors.size(), 2u);
  EXPECT_EQ(next(job, mark), "panel R3") << "a revision";
  EXPECT_EQ(mark, (JobMark{2, 4, 1, 1}));
  must(job.append(reading("R4")));
  EXPECT_EQ(next(job, mark), "readings R4");
}

TEST_F(JobsNews, AReadingAddedAndWithdrawnSinceIsNone) {
  Job job = small_job();
  JobMark mark;
  (void)next(job, mark);
  must(job.append(reading("R1")));
  must(job.append(reading("W1", ""), "R1"));
  EXPECT_EQ(next(job, mark), "panel ");
}

TEST_F(JobsNews, NothingNewIsTheSameMark) {
  Job job = small_job();
  JobMark mark;
  must(job.append(reading("R1")));
  (void)next(job, mark);
  const auto expect_none = [&](const char* why) {
    const JobNews none = must(job.news(mark));
    EXPECT_EQ(none.mark, mark) << why;
    EXPECT_EQ(said(none), "readings ") << why;
  };
  expect_none("nothing was added");
  EXPECT_EQ(must(job.append(reading("R1"))), Appended::already_there);
  expect_none("the same reading was sent again");
  EXPECT_EQ(must(job.append_netlist(at("GD1"))), Appended::already_there);
  expect_none("the same revision was sent again");
  EXPECT_FALSE(job.append(reading("R1", "open")));
  expect_none("a reading was refused");
}

TEST_F(JobsNews, ResultsOfTheIoTestAreNone) {
  Job job = small_job();
  JobMark mark;
  (void)next(job, mark);
  IoResultRow row;
  row.channel = "A1:0.0", row.stimulus = "operated", row.given = "1", row.expected = "1",
  row.verdict = "pass";
  row.time = "2026-03-02T09:00:00Z", row.by = "A", row.id = "I1";
  must(job.append(row));
  EXPECT_EQ(next(job, mark), "readings ");
}

TEST_F(JobsNews, EachConnectionHasItsOwnMark) {
  Job one = small_job(), other = must(open_job(at("a.rtj")));
  JobMark mark_of_one, mark_of_other;
  (void)next(one, mark_of_one);
  must(one.append(reading("R1")));
  EXPECT_EQ(next(other, mark_of_other), "panel R1");
  must(other.append(reading("R2")));
  EXPECT_EQ(next(one, mark_of_one), "readings R1 R2");
  EXPECT_EQ(next(other, mark_of_other), "readings R2");
  EXPECT_EQ(mark_of_one, mark_of_other);
  must(one.append(reading("W", ""), "R2"));
  must(one.append(reading("R3")));
  EXPECT_EQ(next(other, mark_of_other), "panel R1 R3");
  EXPECT_EQ(next(one, mark_of_one), "panel R1 R3");
}

}  // namespace
}  // namespace ringtrue
