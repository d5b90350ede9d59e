#pragma once
#include <cstdint>

namespace ringtrue {

/// How far someone has read a job: how many rows of each kind. Rows are only ever added. Signatures don't
/// count: they say nothing of the panel.
struct JobMark {
  std::int64_t netlists = 0, readings = 0, events = 0, meters = 0, io_results = 0, decisions = 0;
  friend bool operator==(const JobMark&, const JobMark&) = default;
};

}  // namespace ringtrue
