#pragma once
#include "diagnosing.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/record/record.hpp"

namespace ringtrue::cli {

/// Which job's record, and how its readings are explained.
struct RecordingOptions {
  std::string job;
  bool all = false;
  ExplainingOptions explaining;
  MeterOptions meter;
};

/// JOB and the options. `options` must outlive the parsing.
void add_recorded_job(CLI::App& command, RecordingOptions& options);
void add_recording_options(CLI::App& command, RecordingOptions& options);

struct JobRecord {
  JobContents contents;
  Record record;  ///< of just these contents
};

/// Reads the job, judges and explains it; says on stderr what is noted.
/// @errors whatever is wrong with the settings or the job.
[[nodiscard]] Result<JobRecord> record_of(const Job& job, const RecordingOptions& options);

}  // namespace ringtrue::cli
