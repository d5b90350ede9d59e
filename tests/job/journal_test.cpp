// The rows of readings as they stand in a job, and those that withdraw others.
#include "job_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobJournal : public JobTest {
 protected:
  std::string newest(const Job& job, std::size_t count) {
    std::string text;
    for (const JournalReading& row : must(job.journal(count)))
      text += row.id + "(" + row.value + "," + row.supersedes + "," + row.superseded_by + ") ";
    return text;
  }
};

TEST_F(JobJournal, NewestFirstWithWhatSupersedesWhat) {
  Job job = small_job();
  EXPECT_EQ(newest(job, 5), "");
  must(job.append(reading("R1")));
  must(job.append(reading("R2")));
  must(job.append(reading("R3", "open"), "R1"));
  must(job.append(reading("R4", "0.4"), "R1"));
  must(job.append(reading("W1", ""), "R2"));
  EXPECT_EQ(newest(job, 5), "W1(,R2,) R4(0.4,R1,) R3(open,R1,) R2(beep,,W1) R1(beep,,R3; R4) ");
  EXPECT_EQ(newest(job, SIZE_MAX), newest(job, 5));
  EXPECT_EQ(newest(job, 2), "W1(,R2,) R4(0.4,R1,) ");
  EXPECT_EQ(newest(job, 0), "");
}

TEST_F(JobJournal, EveryFieldIsInItsPlace) {
  Job job = small_job();
  ReadingRow row;
  row.from = "K1:A1", row.to = "X1:5.int", row.value = "1.5k", row.time = "2026-03-02T09:00:00Z";
  row.by = "wireman B", row.conditions = "K1=operated", row.meter = "M1", row.method = "ohms";
  row.witness = "A", row.note = "two\nlines", row.id = "R1";
  must(job.append(row));
  const auto found = must(job.find_reading("R1"));
  ASSERT_TRUE(found);
  EXPECT_EQ(found->from, row.from);
  EXPECT_EQ(found->to, row.to);
  EXPECT_EQ(found->value, row.value);
  EXPECT_EQ(found->time, row.time);
  EXPECT_EQ(found->by, row.by);
  EXPECT_EQ(found->conditions, row.conditions);
  EXPECT_EQ(found->meter, row.meter);
  EXPECT_EQ(found->method, row.method);
  EXPECT_EQ(found->witness, row.witness);
  EXPECT_EQ(found->note, row.note);
  EXPECT_EQ(found->id, row.id);
  EXPECT_EQ(must(job.journal(1)).front().note, row.note);
}

TEST_F(JobJournal, AReadingIsFoundByItsIdWhetherCurrentOrNot) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("R2", "open"), "R1"));
  EXPECT_EQ(must(job.find_reading("R1"))->superseded_by, "R2");
  EXPECT_EQ(must(job.find_reading("R2"))->supersedes, "R1");
  EXPECT_FALSE(must(job.find_reading("R3")));
  EXPECT_FALSE(must(job.find_reading("")));
}

TEST_F(JobJournal, AWithdrawnReadingIsNoLongerCurrent) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("R2")));
  EXPECT_EQ(must(job.append(reading("W1", ""), "R1")), Appended::added);
  EXPECT_EQ(must(job.append(reading("W1", ""), "R1")), Appended::already_there);
  EXPECT_EQ(ids(job), "R2");
  const JobContents contents = must(job.contents());
  EXPECT_EQ(contents.superseded_readings, 0u);
  EXPECT_EQ(contents.withdrawn_readings, 1u);
  EXPECT_EQ(sql(at("a.rtj"), "SELECT id || ifnull(value, '-') FROM reading ORDER BY number"),
            "R1beep R2beep W1- ");
}

TEST_F(JobJournal, NothingBringsAReadingBack) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(reading("W1", ""), "R1"));
  must(job.append(reading("W2", ""), "W1"));
  EXPECT_EQ(ids(job), "");
  must(job.append(reading("R2")));
  must(job.append(reading("R3", "open"), "R2"));
  must(job.append(reading("W3", ""), "R3"));
  EXPECT_EQ(ids(job), "");
  const JobContents contents = must(job.contents());
  EXPECT_EQ(contents.superseded_readings, 1u);  // R2
  EXPECT_EQ(contents.withdrawn_readings, 2u);   // R1, R3
}

TEST_F(JobJournal, AWithdrawalSaysWhat) {
  Job job = small_job();
  must(job.append(reading("R1")));
  EXPECT_EQ(first_code(job.append(reading("W1", ""))), ErrorCode::bad_reading);
  EXPECT_EQ(first_code(job.append(reading("W1", ""), "R7")), ErrorCode::unknown_reading);
  ReadingRow row = reading("W1", "");
  row.from = "";
  EXPECT_EQ(first_code(job.append(row, "R1")), ErrorCode::missing_field);
  row = reading("W1", ""), row.time = "now";
  EXPECT_EQ(first_code(job.append(row, "R1")), ErrorCode::bad_time);
  EXPECT_EQ(ids(job), "R1");
}

}  // namespace
}  // namespace ringtrue
