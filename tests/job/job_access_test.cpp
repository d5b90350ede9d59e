// Jobs that may not be written to, or that another process keeps.
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>

#include "job_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

/// Runs the test in a child without root's rights; for root nothing is read-only.
template <class Work>
int as_nobody(Work work) {
  const pid_t child = ::fork();
  if (child == 0) {
    if (::geteuid() == 0 && ::setuid(65534) != 0) ::_exit(9);
    ::_exit(work());
  }
  int status = -1;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

TEST_F(JobTest, AReadOnlyFileIsReadAndNotAppendedTo) {
  { small_job(); }
  ::chmod(folder_.path().c_str(), 0777);
  ::chmod(at("a.rtj").c_str(), 0444);
  EXPECT_EQ(as_nobody([&] {
              auto job = open_job(at("a.rtj"));
              if (!job || !job->panel()) return 1;
              const auto appended = job->append(reading("R1"));
              return first_code(appended) == ErrorCode::read_only_job ? 0 : 2;
            }),
            0);
}

class ReadOnlyFolder : public JobTest {
 protected:
  /// Nobody may write to the folder; the file itself everybody may.
  void close_folder() {
    for (const std::string name : {"a.rtj", "a.rtj-wal", "a.rtj-shm"}) ::chmod(at(name).c_str(), 0666);
    ::chmod(folder_.path().c_str(), 0555);
  }
  void TearDown() override { ::chmod(folder_.path().c_str(), 0755); }
};

TEST_F(ReadOnlyFolder, IsReadAndNotAppendedTo) {
  {
    Job job = small_job();
    must(job.append(reading("R1")));
  }
  close_folder();
  EXPECT_EQ(as_nobody([&] {
              auto job = open_job(at("a.rtj"));
              if (!job || ids(*job) != "R1") return 1;
              if (first_code(job->append(reading("R2"))) != ErrorCode::read_only_job) return 2;
              return ids(*job) == "R1" && !fs::exists(at("a.rtj-wal")) ? 0 : 3;
            }),
            0);
  EXPECT_EQ(as_nobody([&] {
              return first_code(create_job(at("b.rtj"), {RINGTRUE_NETLISTS "/quickstart"})) ==
                             ErrorCode::file_unwritable
                         ? 0
                         : 1;
            }),
            0);
}

TEST_F(ReadOnlyFolder, AwkwardNamesAreRead) {
  { small_job(); }
  fs::rename(at("a.rtj"), at("a?b#c%20d.rtj"));
  ::chmod(at("a?b#c%20d.rtj").c_str(), 0444);
  close_folder();
  EXPECT_EQ(as_nobody([&] {
              auto job = open_job(at("a?b#c%20d.rtj"));
              return job && job->panel() ? 0 : 1;
            }),
            0);
}

TEST_F(ReadOnlyFolder, RowsThatALiveWriterHasInItsLogAreRead) {
  Job writer = small_job();
  must(writer.append(reading("R1")));
  ASSERT_GT(fs::file_size(at("a.rtj-wal")), 0u);
  close_folder();
  EXPECT_EQ(as_nobody([&] {
              auto job = open_job(at("a.rtj"));
              return job && ids(*job) == "R1" ? 0 : 1;
            }),
            0);
}

TEST_F(ReadOnlyFolder, RowsInALogThatCannotBeReadAreTold) {
  {
    Job writer = small_job();
    must(writer.append(reading("R1")));
    fs::copy(at("a.rtj"), at("kept"));
    fs::copy(at("a.rtj-wal"), at("kept-wal"));
  }
  fs::rename(at("kept"), at("a.rtj"));
  fs::rename(at("kept-wal"), at("a.rtj-wal"));
  close_folder();
  EXPECT_EQ(as_nobody([&] {
              return errors_of(open_job(at("a.rtj")), folder_) ==
                             "a.rtj: newer rows stand in the log a.rtj-wal, which can't be read where the "
                             "folder may not be written to: expected a folder with permission to write"
                         ? 0
                         : 1;
            }),
            0);
}

TEST_F(ReadOnlyFolder, WhatIsWrittenWhileItIsReadIsTold) {
  { small_job(); }
  close_folder();
  std::array<int, 2> written{};
  ASSERT_EQ(::pipe(written.data()), 0);
  std::array<int, 2> opened{};
  ASSERT_EQ(::pipe(opened.data()), 0);
  char byte = 0;
  const pid_t reader = ::fork();
  if (reader == 0) {
    if (::geteuid() == 0 && ::setuid(65534) != 0) ::_exit(9);
    auto job = open_job(at("a.rtj"));
    if (!job || !job->panel()) ::_exit(1);
    if (::write(opened[1], "x", 1) != 1 || ::read(written[0], &byte, 1) != 1) ::_exit(8);
    ::_exit(errors_of(job->panel(), folder_) ==
                    "a.rtj: another program has added to the job since it was opened: expected it to be "
                    "opened again"
                ? 0
                : 2);
  }
  ::close(opened[1]);
  ASSERT_EQ(::read(opened[0], &byte, 1), 1);
  ::chmod(folder_.path().c_str(), 0755);
  Job writer = must(open_job(at("a.rtj")));
  must(writer.append(reading("R1")));
  ASSERT_EQ(::write(written[1], "x", 1), 1);
  int status = -1;
  ::waitpid(reader, &status, 0);
  EXPECT_EQ(status, 0);
}

TEST_F(ReadOnlyFolder, AnOlderJobIsTold) {
  sql(at("a.rtj"), bytes_of(fs::path(RINGTRUE_JOBS) / "version_2.sql"));
  close_folder();
  EXPECT_EQ(as_nobody([&] {
              return errors_of(open_job(at("a.rtj")), folder_) ==
                             "a.rtj: an older job is brought to today's form before it is read, and this one "
                             "may not be written to: expected a file and a folder with permission to write"
                         ? 0
                         : 1;
            }),
            0);
}

TEST_F(JobTest, AJobThatAnotherProcessKeepsIsBusy) {
  { small_job(); }
  std::array<int, 2> kept{}, done{};
  ASSERT_EQ(::pipe(kept.data()), 0);
  ASSERT_EQ(::pipe(done.data()), 0);
  char byte = 0;
  const pid_t keeper = ::fork();
  if (keeper == 0) {
    sqlite3* connection = nullptr;
    sqlite3_open(at("a.rtj").c_str(), &connection);
    if (sqlite3_exec(connection, "BEGIN IMMEDIATE", nullptr, nullptr, nullptr) != SQLITE_OK) ::_exit(1);
    if (::write(kept[1], "x", 1) != 1 || ::read(done[0], &byte, 1) != 1) ::_exit(2);
    ::_exit(0);
  }
  ::close(kept[1]);
  ASSERT_EQ(::read(kept[0], &byte, 1), 1);
  Job job = must(open_job(at("a.rtj"), std::chrono::milliseconds{20}));
  EXPECT_EQ(errors_of(job.append(reading("R1")), folder_),
            "a.rtj: another program keeps the job: expected it to finish; try again");
  EXPECT_EQ(ids(job), "");  // reading goes on
  ASSERT_EQ(::write(done[1], "x", 1), 1);
  int status = -1;
  ::waitpid(keeper, &status, 0);
  EXPECT_EQ(status, 0);
  EXPECT_EQ(must(job.append(reading("R1"))), Appended::added);
}

}  // namespace
}  // namespace ringtrue
