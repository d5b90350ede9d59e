#pragma once
#include <string>
#include <vector>

#include "ringtrue/live/live_job.hpp"
#include "ringtrue/report/compare_report.hpp"

namespace ringtrue::cli::log {

/// The report on what a job holds now. Refers to `live`.
[[nodiscard]] CompareReport report_of(const LiveJob& live, const DiagnoseOptions& options);

/// Remembers the findings that somebody was told of, by their numbers.
class FindingsWatch {
 public:
  /// Findings that are new, changed, gone or have another number since the last call.
  [[nodiscard]] std::string news(const LiveJob& live, const DiagnoseOptions& options);

 private:
  struct Told {
    std::vector<std::string> readings;  ///< their ids, in order
    std::string what;                   ///< the likeliest explanation in words
    std::string rest;                   ///< what else would be told
  };
  [[nodiscard]] static std::vector<Told> all_of(const CompareReport& report);

  std::vector<Told> told_;
};

}  // namespace ringtrue::cli::log
