#pragma once
#include <optional>
#include <vector>

#include "ringtrue/compare/read_pairs.hpp"
#include "ringtrue/live/live_job.hpp"

namespace ringtrue::live {

/// What a list of readings to take is made of. All must outlive it.
struct Known {
  const ConductionGraph& graph;
  const DiagnosisState& state;
  const MeterSettings& meter;  ///< of the readings to come
};

/// Readings that no longer count by `standing` and that nothing has taken the place of, each once, in the
/// order in which they were taken.
[[nodiscard]] std::vector<Upcoming> to_take_again(const Known& known, const std::vector<Standing>& standing,
                                                  ReadPairs& pairs);

/// One for each finding that has a reading to take.
[[nodiscard]] std::vector<Upcoming> to_tell_apart(const Known& known, const std::vector<NextReading>& next);

/// By reading of the plan: it was read, or what it proves is proven.
[[nodiscard]] std::vector<bool> done_of(const Plan& plan, const Known& known, const ReadPairs& pairs);

[[nodiscard]] Upcoming planned(const Plan& plan, std::size_t number, const ConductionGraph& graph);

}  // namespace ringtrue::live
