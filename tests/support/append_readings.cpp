// Appends readings PREFIX1 .. PREFIXn to a job, and says each id as soon as the job has acknowledged it.
//   append_readings JOB PREFIX COUNT
#include <cstdio>
#include <cstdlib>
#include <string>

#include "ringtrue/job/job.hpp"

int main(int argc, char** argv) {
  if (argc != 4) return 2;
  auto job = ringtrue::open_job(argv[1]);
  for (int i = 1; job && i <= std::atoi(argv[3]); ++i) {
    const std::string id = argv[2] + std::to_string(i);
    ringtrue::ReadingRow row;
    row.from = "K1:A1", row.to = "X1:5.int", row.value = "beep", row.note = "\"a, b\"\nline two", row.id = id;
    const auto appended = job->append(row);
    if (!appended) {
      std::fprintf(stderr, "%s\n", ringtrue::to_text(appended.error().front()).c_str());
      return 1;
    }
    std::printf("%s\n", id.c_str());
    std::fflush(stdout);
  }
  if (job) return 0;
  std::fprintf(stderr, "%s\n", ringtrue::to_text(job.error().front()).c_str());
  return 1;
}
