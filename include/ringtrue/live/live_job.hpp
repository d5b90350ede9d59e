#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/diagnose/state.hpp"
#include "ringtrue/job/job.hpp"
#include "ringtrue/live/drawing.hpp"
#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// A reading to take.
struct Upcoming {
  enum class Why : std::uint8_t {
    again,    ///< one that a repair or a revision has made stale
    finding,  ///< tells the explanations of a finding apart
    plan,     ///< proves what isn't proven yet
  };
  std::string from, to, conditions;                              ///< as a file of readings has them
  PointId from_point = PointId::none, to_point = PointId::none;  ///< at or above point_count: loose ends
  Expected expected = Expected::beep;                            ///< on the drawing
  OhmInterval ohms;                                              ///< for Expected::ohms
  bool in_ohms = false;  ///< else with the buzzer, which may do either where `expected` is ohms
  Why why = Why::plan;
  std::size_t finding = 0;        ///< for Why::finding, in Findings::clusters
  std::vector<ElementId> proves;  ///< for Why::plan
};
[[nodiscard]] std::string_view word(Upcoming::Why why);  ///< `again`, `finding`, `plan`

/// What the readings of a job are judged, explained and planned by.
struct LiveOptions {
  CopperSettings copper;
  DiagnoseOptions diagnose;
  MeterSettings meter;  ///< of readings that name none
  PlanOptions plan;     ///< without meters, which are the job's
};

/// What follows from a job, kept up to date while anybody adds to it: what the readings prove, the findings,
/// what to read next. For one thread at a time.
class LiveJob {
 public:
  /// Reads all that is in the job.
  /// @errors those of `Job::news` and `begin_diagnosis`.
  [[nodiscard]] static Result<LiveJob> open(Job job, const LiveOptions& options = {});
  LiveJob(LiveJob&&) noexcept;
  LiveJob& operator=(LiveJob&&) noexcept;
  ~LiveJob();

  /// Takes in what any process has added since. False if there was nothing.
  /// Cost: that of `diagnose` for each reading more; all anew after a superseding reading, an event, a meter
  /// or a revision.
  /// @errors as `open`; then everything stays as it was, and the next call tries again.
  [[nodiscard]] Result<bool> catch_up();
  /// Another number whenever something was taken in.
  [[nodiscard]] std::uint64_t generation() const;

  [[nodiscard]] const std::shared_ptr<const Drawing>& drawing() const;  ///< of the newest revision
  [[nodiscard]] const DiagnosisState& state() const;
  [[nodiscard]] const Events& events() const;
  [[nodiscard]] const Meters& meters() const;
  [[nodiscard]] const IoResults& io_results() const;  ///< those that nothing withdraws
  /// By finding.
  [[nodiscard]] const std::vector<NextReading>& next() const;

  /// Readings to take, at most `most`: those to be taken again, those that tell explanations apart, then
  /// those of the plan in walking order, without what was read or proven since. The plan is made when it is
  /// asked for first and stays, unless the drawing or the meters change; when all of it is done, what is
  /// still unproven is planned further.
  [[nodiscard]] std::vector<Upcoming> upcoming(std::size_t most);
  /// Of the plan: a reading of it is done if its pair was read under its condition, or if all that it proves
  /// is proven.
  struct Progress {
    std::size_t planned = 0, done = 0;
  };
  [[nodiscard]] Progress progress();

 private:
  class Impl;
  explicit LiveJob(std::unique_ptr<Impl> impl);
  std::unique_ptr<Impl> impl_;
};

}  // namespace ringtrue
