// A job as a file: what it refuses, what is wrong with it, and several processes at once.
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <set>

#include "job_support.hpp"
#include "ringtrue/job/salvage.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

TEST_F(JobTest, RowsAreNeitherChangedNorTakenAway) {
  folder_.write("log/events.csv", "time,by,kind,points\n2026-03-02T09:00:00Z,A,repair,K1:A1\n");
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("log/readings.csv", "from,to,value\nK1:A1,X1:5.int,beep\n");
  folder_.write("meters.csv", "meter\nM1\n");
  folder_.write("results.csv", "channel,stimulus,verdict,time,by\nDI0,jumper,pass,2026-03-02T09:00:00Z,A\n");
  must(create_job(at("a.rtj"), {at("GD1"), at("log/readings.csv"), at("meters.csv"), at("results.csv")}));
  const std::string tables[] = {"netlist", "netlist_file", "reading", "event", "meter", "result"};
  for (const std::string& table : tables) {
    EXPECT_EQ(sql(at("a.rtj"), "UPDATE " + table + " SET number = 7"), "rows of a job are never changed");
    EXPECT_EQ(sql(at("a.rtj"), "DELETE FROM " + table), "rows of a job are never deleted");
    EXPECT_EQ(sql(at("a.rtj"), "INSERT OR REPLACE INTO " + table + " SELECT * FROM " + table),
              "rows of a job are never replaced");
    EXPECT_EQ(sql(at("a.rtj"), "SELECT count(*) FROM " + table), "1 ");
  }
}

TEST_F(JobTest, TheFileIsWalAndSaysWhatItIs) {
  small_job();
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA journal_mode; PRAGMA application_id; PRAGMA user_version"),
            "wal 1381255729 7 ");
}

TEST_F(JobTest, TwoProcessesAppendAtOnce) {
  small_job();
  constexpr int k_rows = 500;
  const auto append_all = [&](const std::string& prefix) {
    auto job = open_job(at("a.rtj"));
    if (!job) return 1;
    for (int i = 0; i < k_rows; ++i)
      if (!job->append(reading(prefix + std::to_string(i)))) return 1;
    return 0;
  };
  const pid_t child = ::fork();
  if (child == 0) ::_exit(append_all("A"));
  EXPECT_EQ(append_all("B"), 0);
  int status = -1;
  ::waitpid(child, &status, 0);
  EXPECT_EQ(status, 0);
  std::istringstream all(ids(must(open_job(at("a.rtj")))));
  std::set<std::string> found{std::istream_iterator<std::string>(all), {}};
  EXPECT_EQ(found.size(), 2u * k_rows);
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA integrity_check; SELECT count(*) FROM reading"), "ok 1000 ");
}

TEST_F(JobTest, AJobOfAnEarlierVersionIsBroughtToTodays) {
  // As each version made it; netlists and readings as a job of one wire has them.
  small_job();
  const char* schema = "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL ORDER BY name";
  const auto plain = [](std::string text) {
    std::erase_if(text, [](char c) { return c == ' ' || c == '\n'; });
    return text;
  };
  const std::pair<std::string, std::string> readings_of_version[] = {
      {"1", "R1 R2"}, {"2", "R2 R3"}, {"3", "R2 R3"}, {"4", "R2 R3"}, {"6", "R2 R3"}};
  for (const auto& [version, current] : readings_of_version) {
    SCOPED_TRACE(version);
    const fs::path old = at("old" + version + ".rtj");
    EXPECT_EQ(sql(old, bytes_of(fs::path(RINGTRUE_JOBS) / ("version_" + version + ".sql"))), "wal ");
    const std::string rows = sql(old, "SELECT number || id || value || ifnull(note, '') FROM reading");
    Job job = must(open_job(old));
    EXPECT_EQ(ids(job), current);
    EXPECT_EQ(must(job.panel()).netlist.conductors.size(), 1u);
    EXPECT_EQ(must(job.panel()).io_results.rows.size(), version >= "3" ? 1u : 0u);
    EXPECT_EQ(sql(old, "SELECT number || id || value || ifnull(note, '') FROM reading"), rows);
    must(job.append(reading("W1", ""), "R2"));
    must(job.append(reading("R9")));
    EXPECT_EQ(ids(job), current.substr(0, current.find("R2")) + (version == "1" ? "R9" : "R3 R9"));
    EXPECT_EQ(sql(old,
                  "PRAGMA user_version; PRAGMA application_id; PRAGMA integrity_check; PRAGMA "
                  "foreign_key_check"),
              "7 1381255729 ok ");
    EXPECT_EQ(sql(old,
                  "PRAGMA foreign_keys = ON; INSERT INTO reading (\"from\", value, id, supersedes) VALUES "
                  "('A', 'beep', 'R10', 'none')"),
              "FOREIGN KEY constraint failed");
    EXPECT_EQ(sql(old, "DELETE FROM reading"), "rows of a job are never deleted");
    // Nobody knows under which revision the old rows were added: the oldest.
    folder_.write("GD1-B/conductors.csv", "wire,from,to\n1,K1:A1,X1:5.int\n2,K1:A2,X1:6.int\n");
    must(job.append_netlist(at("GD1-B")));
    must(job.append(reading("R10")));
    const Panel revised = must(job.panel());
    ASSERT_EQ(revised.earlier.size(), 1u);
    EXPECT_EQ(revised.earlier[0].netlist.conductors.size(), 1u);
    EXPECT_FALSE(revised.earlier[0].next_is_as_built);
    const std::size_t last = revised.readings.rows.size() - 1;
    for (std::size_t i = 0; i <= last; ++i)
      EXPECT_EQ(netlist_mark(revised.readings.text.get(ReadingText::netlist, i))->number,
                i == last ? 2u : 1u);
    for (const Event& event : revised.events.rows) EXPECT_EQ(event.netlist, "1 476ebe8a4adf");
    // The same form as that of a new job.
    EXPECT_EQ(plain(sql(old, schema)), plain(sql(at("a.rtj"), schema)));
  }
}

TEST_F(JobTest, ANewerJobIsRefusedAndLeftAlone) {
  small_job();
  sql(at("a.rtj"), "PRAGMA user_version = 99");
  EXPECT_EQ(
      errors_of(open_job(at("a.rtj")), folder_),
      "a.rtj: a newer ringtrue made this job: found \"version 99\", expected at most version 7; use the "
      "newer program");
  EXPECT_EQ(sql(at("a.rtj"), "PRAGMA user_version"), "99 ");
}

// No job is of a version below 1: the header is damaged, and the rows can still be saved.
TEST_F(JobTest, AVersionThatNeverWasIsDamage) {
  small_job();
  for (const std::string version : {"0", "-1", "-16777209"}) {
    sql(at("a.rtj"), "PRAGMA user_version = " + version);
    EXPECT_EQ(errors_of(open_job(at("a.rtj")), folder_),
              "a.rtj: the job is damaged: found \"version " + version +
                  "\", expected a whole one; a copy from before may be");
    EXPECT_EQ(sql(at("a.rtj"), "PRAGMA user_version"), version + " ");
    EXPECT_TRUE(salvage_job(at("a.rtj"), at("saved" + version))) << version;
    EXPECT_TRUE(std::filesystem::exists(at("saved" + version) / "readings.csv"));
  }
}

TEST_F(JobTest, WhatIsNoJobIsRefusedAndLeftAlone) {
  constexpr std::string_view k_no_job = ": this is no job: expected a file that ringtrue job new made";
  folder_.write("empty.rtj", "");
  folder_.write("text.rtj", std::string(5000, 'x'));
  sql(at("other.rtj"), "CREATE TABLE reading (id)");
  const std::string before = bytes_of(at("other.rtj"));
  for (const std::string name : {"empty.rtj", "text.rtj", "other.rtj"})
    EXPECT_EQ(errors_of(open_job(at(name)), folder_), name + std::string(k_no_job));
  EXPECT_EQ(bytes_of(at("empty.rtj")), "");
  EXPECT_EQ(bytes_of(at("other.rtj")), before);
  fs::create_directory(at("folder.rtj"));
  EXPECT_EQ(first_code(open_job(at("folder.rtj"))), ErrorCode::not_a_job);
  EXPECT_EQ(errors_of(open_job(at("text.rt")), folder_).substr(0, 41),
            "text.rt: there is no such file; nearest: ");
}

TEST_F(JobTest, ACutJobIsRefusedAtEveryPage) {
  { small_job(); }
  const std::string whole = bytes_of(at("a.rtj"));
  ASSERT_GT(whole.size(), 4u * 4096);
  for (std::size_t size = 4096; size < whole.size(); size += 4096) {
    folder_.write("cut.rtj", whole.substr(0, size));
    EXPECT_EQ(first_code(open_job(at("cut.rtj"))), ErrorCode::damaged_job) << size;
  }
}

TEST_F(JobTest, StoredBytesThatAreNotThoseLoadedAreDamage) {
  { small_job(); }
  std::string bytes = bytes_of(at("a.rtj"));
  const std::size_t found = bytes.find(k_conductors);
  ASSERT_NE(found, std::string::npos);
  bytes[found + k_conductors.size() - 2] = 'x';
  folder_.write("a.rtj", bytes);
  EXPECT_EQ(errors_of(must(open_job(at("a.rtj"))).panel(), folder_),
            "a.rtj: the job is damaged: a stored file isn't what was loaded: found \"GD1/conductors.csv\", "
            "expected bytes that have its SHA-256; a copy from before may");
}

TEST_F(JobTest, NothingTakesThePlaceOfWhatIsThere) {
  { small_job(); }
  const std::string before = bytes_of(at("a.rtj"));
  EXPECT_EQ(errors_of(create_job(at("a.rtj"), {at("GD1")}), folder_),
            "a.rtj: it exists already: expected a name that is not taken yet");
  EXPECT_EQ(bytes_of(at("a.rtj")), before);
  const Job job = must(open_job(at("a.rtj")));
  fs::create_directory(at("out"));
  EXPECT_EQ(first_code(job.export_to(at("out"))), ErrorCode::file_exists);
  EXPECT_TRUE(fs::is_empty(at("out")));
}

TEST_F(JobTest, TheLogOfAnEarlierJobIsNotTakenForThatOfANewOne) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("a.rtj-wal", "left behind");
  EXPECT_EQ(
      errors_of(create_job(at("a.rtj"), {at("GD1")}), folder_),
      "a.rtj-wal: the log of an earlier job of this name stands here: expected another name, or that job "
      "beside it");
  EXPECT_FALSE(fs::exists(at("a.rtj")));
}

TEST_F(JobTest, TheNameEndsInRtj) {
  EXPECT_EQ(errors_of(create_job(at("a.db"), {at("GD1")}), folder_),
            "a.db: the name of a job ends in .rtj: expected a.rtj");
}

TEST_F(JobTest, AFileThatIsWrongMakesNoJob) {
  folder_.write("GD1/conductors.csv", k_conductors);
  folder_.write("r.csv", "from,to,value\nK1:A1,X1:5,maybe\n");
  EXPECT_EQ(first_code(create_job(at("a.rtj"), {at("GD1"), at("r.csv")})), ErrorCode::bad_reading);
  EXPECT_FALSE(fs::exists(at("a.rtj")));
}

}  // namespace
}  // namespace ringtrue
