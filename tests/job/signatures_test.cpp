// Signatures in a job.
#include "ringtrue/model/signatures.hpp"

#include "job_support.hpp"
#include "ringtrue/job/salvage.hpp"
#include "ringtrue/report/signature_words.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class JobSignatures : public JobTest {
 protected:
  /// For the job as it is.
  Signature signature(const Job& job, std::string_view id, SigningRole role) {
    const JobContents contents = must(job.contents());
    Signature made;
    made.role = role, made.by = "A, \"the\nfirst\"", made.time = "2026-03-02T09:00:00Z", made.is_ready = true;
    made.rows = contents.rows, made.netlist_sha256 = contents.netlists.back().sha256;
    made.rows_sha256 = contents.rows_sha256, made.id = id;
    return made;
  }

  /// Of every signature its id and what stands against it.
  std::string reservations(const Job& job) {
    const JobContents contents = must(job.contents());
    std::string text;
    for (const Signature& one : contents.signatures.rows) {
      text += (text.empty() ? "" : " | ") + one.id + ":";
      for (const std::string& reservation : signature_reservations(one, contents)) text += " " + reservation;
    }
    return text;
  }
};

TEST_F(JobSignatures, TheLastOfARoleCountsAndAllStay) {
  Job job = small_job();
  must(job.append(signature(job, "S1", SigningRole::wired)));
  must(job.append(signature(job, "S2", SigningRole::accepted)));
  must(job.append(signature(job, "S3", SigningRole::wired)));
  const Signatures all = must(job.contents()).signatures;
  ASSERT_EQ(all.rows.size(), 3u);
  const std::array<std::optional<std::size_t>, 4> expected{2u, std::nullopt, std::nullopt, 1u};
  EXPECT_EQ(last_signatures(all), expected);
  EXPECT_EQ(all.rows[2].by, "A, \"the\nfirst\"");
}

TEST_F(JobSignatures, EveryKindOfRowCountsButSignatures) {
  Job job = small_job();
  must(job.append(reading("R1")));
  must(job.append(signature(job, "S1", SigningRole::wired)));
  must(job.append(signature(job, "S2", SigningRole::checked)));
  EXPECT_EQ(reservations(job), "S1: | S2:");
  must(job.append(reading("R2")));
  must(job.append(reading("R3"), "R1"));
  EXPECT_EQ(reservations(job).substr(0, 56), "S1: signed before 2 later readings: not for this state |");
  must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
  must(job.append(one_meter("M1", "30")));
  IoResultRow result;
  result.channel = "K1:A1", result.stimulus = "operated", result.verdict = "pass", result.by = "A";
  result.time = "2026-03-02T09:00:00Z", result.id = "I1";
  must(job.append(result));
  DecisionRow decision;
  decision.finding = "open wire 1", decision.decision = "repair", decision.by = "A", decision.id = "D1";
  decision.time = "2026-03-02T09:00:00Z";
  must(job.append(decision));
  folder_.write("GD1-B/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,K1:A2,X1:6.int\n");
  must(job.append_netlist(at("GD1-B")));
  must(job.append(signature(job, "S3", SigningRole::wired)));
  const std::string stale =
      " signed before 1 later netlist, 2 later readings, 1 later event, 1 later meter, 1 later I/O result "
      "and 1 "
      "later decision: not for this state";
  EXPECT_EQ(reservations(job), "S1:" + stale + " | S2:" + stale + " | S3:");
}

TEST_F(JobSignatures, SignedWithOpenItemsIsSaid) {
  Job job = small_job();
  Signature open = signature(job, "S1", SigningRole::checked);
  open.is_ready = false;
  must(job.append(open));
  EXPECT_EQ(reservations(job), "S1: signed with open items");
}

TEST_F(JobSignatures, OneOfAnotherJobIsNotForThisOne) {
  Job job = small_job();
  const Signature of_no_reading = signature(job, "S1", SigningRole::checked);
  must(job.append(reading("R1")));
  const Signature of_one = signature(job, "S2", SigningRole::checked);
  const std::string other = " signed for other rows than the job holds: not for this state";
  Job fewer = must(create_job(at("b.rtj"), {at("GD1")}));
  must(fewer.append(of_no_reading));
  must(fewer.append(of_one));
  EXPECT_EQ(reservations(fewer), "S1: | S2:" + other);
  must(fewer.append(reading("R1", "open")));
  EXPECT_EQ(reservations(fewer), "S1: signed before 1 later reading: not for this state | S2:" + other);
  folder_.write("GD2/conductors.csv", "wire,from,to\n1,K1:A1,X1:6.int\n");
  Job drawn_otherwise = must(create_job(at("c.rtj"), {at("GD2")}));
  must(drawn_otherwise.append(of_no_reading));
  EXPECT_EQ(reservations(drawn_otherwise), "S1:" + other);
}

TEST_F(JobSignatures, OneOfAsManyOtherRowsOfAnyKindIsNotForThisJob) {
  Job job = small_job();
  must(job.append(event("E1", "repair", "K1:A1", "2026-03-02T09:00:00Z")));
  const Signature given = signature(job, "S1", SigningRole::checked);
  must(job.append(given));
  EXPECT_EQ(reservations(job), "S1:");
  Job other = must(create_job(at("b.rtj"), {at("GD1")}));
  must(other.append(event("E1", "repair", "K1:A2", "2026-03-02T09:00:00Z")));
  must(other.append(given));
  EXPECT_EQ(reservations(other), "S1: signed for other rows than the job holds: not for this state");
}

TEST_F(JobSignatures, WhatIsWrongWithARowIsSaid) {
  const std::string sum(64, 'a');
  const SignatureRow good{.role = "checked",
                          .by = "A",
                          .text = "",
                          .time = "2026-03-02T09:00:00Z",
                          .revision = "1",
                          .netlist_sha256 = sum,
                          .rows_sha256 = sum,
                          .ready = "yes",
                          .readings = "0",
                          .events = "0",
                          .meters = "0",
                          .results = "0",
                          .decisions = "0",
                          .id = "S1"};
  ASSERT_TRUE(signature_from_row(good, 2, "s.csv"));
  const std::tuple<std::string_view SignatureRow::*, std::string_view, const char*> cases[] = {
      {&SignatureRow::role, "seen",
       "role: unknown word: found \"seen\", expected wired, checked, witnessed or accepted"},
      {&SignatureRow::by, " ", "by: the field is empty: expected who signs"},
      {&SignatureRow::time, "today",
       "time: not a time: found \"today\", expected RFC 3339, such as 2026-03-02T07:15:00Z"},
      {&SignatureRow::ready, "", "ready: unknown word: expected yes or no"},
      {&SignatureRow::netlist_sha256, "aaaa",
       "netlist_sha256: not a SHA-256: found \"aaaa\", expected 64 hexadecimal digits"},
      {&SignatureRow::revision, "0",
       "revision: not a count of rows: found \"0\", expected a whole number from 1"},
      {&SignatureRow::meters, "1.5",
       "meters: not a count of rows: found \"1.5\", expected a whole number from 0"},
      {&SignatureRow::decisions, "99999999999999999999",
       "decisions: not a count of rows: found \"99999999999999999999\", expected a whole number from 0"}};
  for (const auto& [field, text, expected] : cases) {
    SignatureRow row = good;
    row.*field = text;
    const auto made = signature_from_row(row, 2, "s.csv");
    ASSERT_FALSE(made) << expected;
    EXPECT_EQ(to_text(made.error().front()), "s.csv:2: " + std::string(expected));
  }
}

TEST_F(JobSignatures, OneThatIsWrongIsNotAdded) {
  Job job = small_job();
  Signature nobody = signature(job, "S1", SigningRole::wired);
  nobody.by = "";
  EXPECT_EQ(errors_of(job.append(nobody), folder_), "a.rtj: by: the field is empty: expected who signs");
  EXPECT_TRUE(must(job.contents()).signatures.rows.empty());
}

TEST_F(JobSignatures, ExportedAndImportedTheyAreTheSame) {
  Job job = small_job();
  must(job.append(signature(job, "S1", SigningRole::wired)));
  must(job.append(signature(job, "=1+1", SigningRole::witnessed)));
  ASSERT_TRUE(job.export_to(at("out")));
  ASSERT_TRUE(salvage_job(at("a.rtj"), at("salvaged")));
  EXPECT_EQ(bytes_of(at("salvaged/signatures.csv")), bytes_of(at("out/signatures.csv")));
  Job other = must(create_job(at("b.rtj"), {at("GD1")}));
  JobRows rows;
  rows.signatures = must(load_signatures(at("out/signatures.csv")));
  EXPECT_EQ(must(other.append(rows)).signatures, 2u);
  EXPECT_EQ(must(other.append(rows)).signatures, 0u);
  ASSERT_TRUE(other.export_to(at("again")));
  EXPECT_EQ(bytes_of(at("again/signatures.csv")), bytes_of(at("out/signatures.csv")));
}

TEST_F(JobSignatures, ARowStaysAsItIs) {
  Job job = small_job();
  const Signature one = signature(job, "S1", SigningRole::wired);
  EXPECT_EQ(must(job.append(one)), Appended::added);
  EXPECT_EQ(must(job.append(one)), Appended::already_there);
  Signature other = one;
  other.role = SigningRole::accepted;
  EXPECT_EQ(first_code(job.append(other)), ErrorCode::repeated_row);
  EXPECT_EQ(sql(at("a.rtj"), "UPDATE signature SET ready = 'yes'"), "rows of a job are never changed");
  EXPECT_EQ(sql(at("a.rtj"), "DELETE FROM signature"), "rows of a job are never deleted");
  EXPECT_EQ(sql(at("a.rtj"), "INSERT OR REPLACE INTO signature SELECT * FROM signature"),
            "rows of a job are never replaced");
  EXPECT_EQ(must(job.contents()).signatures.rows.size(), 1u);
}

TEST_F(JobSignatures, OneIsNoNewsOfThePanel) {
  Job job = small_job();
  const JobMark mark = must(job.news({})).mark;
  must(job.append(signature(job, "S1", SigningRole::wired)));
  EXPECT_EQ(must(job.news(mark)).mark, mark);
  EXPECT_FALSE(must(job.news(mark)).panel);
}

TEST_F(JobSignatures, AnOlderJobHasNone) {
  for (const char* version : {"1", "2", "3", "4", "6"}) {
    SCOPED_TRACE(version);
    const fs::path old = at(std::string("old") + version + ".rtj");
    sql(old, bytes_of(fs::path(RINGTRUE_JOBS) / ("version_" + std::string(version) + ".sql")));
    Job job = must(open_job(old));
    EXPECT_EQ(reservations(job), "");
    must(job.append(signature(job, "S1", SigningRole::wired)));
    EXPECT_EQ(reservations(job), "S1:");
  }
}

}  // namespace
}  // namespace ringtrue
