// Damaged jobs. The first byte chooses a job, the second how many pages are missing at its end; each further
// four are an offset of three bytes, lowest first, and the byte that stands there instead. The pages are as
// small as SQLite allows: a lost one makes salvage try each row that the file has room for.
#include <sqlite3.h>

#include <vector>

#include "fuzz/fuzz.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/job/salvage.hpp"

using namespace ringtrue;

namespace {

constexpr std::size_t k_page = 512;

void run(const std::filesystem::path& path, const std::string& statements) {
  sqlite3* connection = nullptr;
  sqlite3_open(path.c_str(), &connection);
  const int code = sqlite3_exec(connection, statements.c_str(), nullptr, nullptr, nullptr);
  sqlite3_close(connection);
  fuzz::must(code == SQLITE_OK, "the statements run", statements);
}

const std::string k_small_pages = "PRAGMA page_size = " + std::to_string(k_page) + ";";

std::string job_of_sql(const std::string& statements) {
  const auto path = fuzz::scratch().at("made.rtj");
  std::filesystem::remove(path);
  run(path, k_small_pages + statements);
  return fuzz::bytes_of(path);
}

/// Today's form, and those of earlier versions.
std::vector<std::string> make_jobs() {
  const std::filesystem::path quickstart = RINGTRUE_NETLISTS "/quickstart";
  const auto path = fuzz::scratch().at("new.rtj");
  // The job is closed at once, so that the form of its file can be changed.
  fuzz::must(
      create_job(path, {quickstart, quickstart / "readings.csv", quickstart / "meters.csv"}).has_value(),
      "the quick start makes a job");
  run(path, "PRAGMA journal_mode = DELETE;" + k_small_pages + "VACUUM; PRAGMA journal_mode = WAL");
  std::vector<std::string> jobs;
  for (const char* version : {"1", "2", "3", "4", "6"})
    jobs.push_back(job_of_sql(fuzz::bytes_of(RINGTRUE_JOBS "/version_" + std::string(version) + ".sql")));
  jobs.push_back(fuzz::bytes_of(path));
  return jobs;
}

template <class T>
bool is_there(const Result<T>& result) {
  if (!result) fuzz::must_be_told(result.error());
  return result.has_value();
}

bool can_be_read(const std::filesystem::path& path) {
  const auto job = open_job(path);
  if (!is_there(job)) return false;
  bool all = true;
  for (const bool is_read : {is_there(job->contents()), is_there(job->id()), is_there(job->panel()),
                             is_there(job->news({})), is_there(job->journal(100))})
    all = all && is_read;
  return all;
}

}  // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const std::vector<std::string> jobs = make_jobs();
  if (size < 2) return 0;
  std::string bytes = jobs[data[0] % jobs.size()];
  bytes.resize(bytes.size() - std::min<std::size_t>(data[1] % 8 * k_page, bytes.size()));
  for (std::size_t at = 2; at + 4 <= size && !bytes.empty(); at += 4) {
    const std::size_t offset = data[at] + 0x100u * data[at + 1] + 0x10000u * data[at + 2];
    bytes[offset % bytes.size()] = static_cast<char>(data[at + 3]);
  }
  for (const char* left : {"a.rtj", "a.rtj-wal", "a.rtj-shm", "salvaged"})
    std::filesystem::remove_all(fuzz::scratch().at(left));
  const auto path = fuzz::scratch().write("a.rtj", bytes);
  (void)is_there(salvage_job(path, fuzz::scratch().at("salvaged")));
  fuzz::must(fuzz::bytes_of(path) == bytes, "a job that is salvaged stays as it is");
  fuzz::must(can_be_read(path) || size > 5 || data[1] % 8 != 0, "an undamaged job can be read");
  return 0;
}
