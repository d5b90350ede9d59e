#pragma once
#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <string>
#include <thread>

#include "ringtrue/live/live_job.hpp"

namespace ringtrue::serve {

/// What pages are shown until the next one comes.
struct Published {
  std::uint64_t version = 0;
  std::string state;  ///< JSON on one line
  std::shared_ptr<const Drawing> drawing;
  Meters meters;
};

/// Follows a job in a thread of its own and publishes what follows from it. Its calls may come from any
/// thread.
class Watch {
 public:
  /// What a state is written from.
  struct Source {
    LiveJob& live;
    const Job& job;
    std::uint64_t version;
    std::string trouble;  ///< why the job can't be read any further; empty: it can
  };
  using WriteState = std::function<std::string(const Source& source)>;
  /// Publishes the first state before it returns.
  /// @param job  the same job once more, for what only the file knows.
  Watch(LiveJob live, Job job, WriteState write_state);
  ~Watch();
  Watch(const Watch&) = delete;
  Watch& operator=(const Watch&) = delete;

  [[nodiscard]] std::shared_ptr<const Published> published() const;
  /// One that is newer than `version`, or the same as before when the time is over or the watch ends.
  [[nodiscard]] std::shared_ptr<const Published> newer_than(std::uint64_t version,
                                                            std::chrono::milliseconds at_most) const;
  /// Something was added to the job: look at once.
  void wake();
  /// No further state comes; whoever waits is let go.
  void end();
  [[nodiscard]] bool has_ended() const;

  /// Asks what follows from the job, brought up to date, while nobody else does.
  /// @errors those of `LiveJob::catch_up`.
  template <class Ask>
  auto with_live(Ask ask) -> decltype(ask(std::declval<LiveJob&>())) {
    const std::lock_guard lock(live_mutex_);
    auto read = live_.catch_up();
    if (!read) return tl::unexpected(std::move(read.error()));
    is_newer_ = is_newer_ || *read;
    return ask(live_);
  }
  template <class Ask>
  auto with_live_and_job(Ask ask) -> decltype(ask(std::declval<LiveJob&>(), std::declval<const Job&>())) {
    return with_live([&](LiveJob& live) { return ask(live, job_); });
  }

 private:
  void follow();
  void look();

  mutable std::mutex live_mutex_;  ///< of the next ones
  LiveJob live_;
  Job job_;
  bool is_newer_ = true;  ///< than what is published
  std::string trouble_;
  WriteState write_state_;

  mutable std::mutex mutex_;  ///< of the rest
  mutable std::condition_variable changed_;
  std::shared_ptr<const Published> published_;
  bool is_woken_ = false, has_ended_ = false;
  std::thread thread_;
};

}  // namespace ringtrue::serve
