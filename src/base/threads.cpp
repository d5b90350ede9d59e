#include "ringtrue/base/threads.hpp"

#include <algorithm>
#include <condition_variable>
#include <exception>
#include <mutex>
#include <system_error>
#include <thread>
#include <vector>

namespace ringtrue {

Threads Threads::all() { return {std::max<std::size_t>(1, std::thread::hardware_concurrency())}; }

namespace {

/// Those who work on an outermost call and on the calls within it.
struct Team {
  std::size_t most;       ///< the outermost call's number of threads
  std::size_t count = 1;  ///< its caller, and who helps
};
thread_local Team* team_of_this_thread = nullptr;

/// The indices of one call, each given out once. All but the work itself is done under a lock, which is held
/// before and after.
class Job {
 public:
  Job(std::size_t n, std::size_t most_helpers, Team& own_team,
      const std::function<void(std::size_t)>& own_work)
      : team(own_team), n_(n), helpers_left_(most_helpers), work_(own_work) {}

  [[nodiscard]] bool takes_help() const { return next_ < n_ && helpers_left_ > 0; }
  [[nodiscard]] bool is_done() const { return next_ == n_ && at_work_ == 0; }

  void take_turns(std::unique_lock<std::mutex>& lock) {
    ++at_work_;
    while (next_ < n_) {
      const std::size_t i = next_++;
      lock.unlock();
      std::exception_ptr thrown;
      try {
        work_(i);
      } catch (...) {
        thrown = std::current_exception();
      }
      lock.lock();
      if (!thrown) continue;
      if (i < failed_at_) failed_at_ = i, failure_ = thrown;
      next_ = n_;
    }
    --at_work_;
  }
  void help(std::unique_lock<std::mutex>& lock) {
    --helpers_left_;
    take_turns(lock);
  }
  void rethrow() const {
    if (failure_) std::rethrow_exception(failure_);
  }

  Team& team;

 private:
  std::size_t n_, next_ = 0, at_work_ = 0, helpers_left_;
  const std::function<void(std::size_t)>& work_;
  std::size_t failed_at_ = static_cast<std::size_t>(-1);
  std::exception_ptr failure_;
};

/// Threads that help whoever calls `for_each_index`, kept for the next call: as many as the largest call
/// asked for beside its own. Of the calls that take help the youngest gets it, so that work within work is
/// done first; who waits for the rest of its own call to be done helps its team meanwhile. Nobody waits for
/// another for ever: the youngest call's indices are at work, and waiting for younger calls alone.
class Helpers {
 public:
  ~Helpers() {
    {
      const std::lock_guard lock(guard_);
      is_over_ = true;
    }
    changed_.notify_all();
    for (std::thread& thread : threads_) thread.join();
  }

  /// Where the system gives no more threads, fewer help.
  void provide(std::size_t helpers) {
    const std::lock_guard lock(guard_);
    try {
      while (threads_.size() < helpers) threads_.emplace_back([this] { help_all(); });
    } catch (const std::system_error&) {
    }
  }

  void run(Job& job) {
    std::unique_lock lock(guard_);
    jobs_.push_back(&job);
    changed_.notify_all();
    job.take_turns(lock);
    while (!job.is_done()) {
      const auto in_team = [&](const Job& other) { return &other.team == &job.team; };
      if (Job* const other = youngest_that_takes_help(in_team))
        help(*other, lock);
      else
        changed_.wait(lock);
    }
    jobs_.erase(std::find(jobs_.begin(), jobs_.end(), &job));
  }

 private:
  void help_all() {
    std::unique_lock lock(guard_);
    const auto has_place = [](const Job& job) { return job.team.count < job.team.most; };
    while (!is_over_) {
      Job* const job = youngest_that_takes_help(has_place);
      if (job == nullptr) {
        changed_.wait(lock);
        continue;
      }
      Team& team = job->team;
      team_of_this_thread = &team;
      ++team.count;
      help(*job, lock);
      --team.count;
    }
  }

  template <class May>
  Job* youngest_that_takes_help(May may) {
    const auto found = std::find_if(jobs_.rbegin(), jobs_.rend(),
                                    [&](const Job* job) { return job->takes_help() && may(*job); });
    return found == jobs_.rend() ? nullptr : *found;
  }

  void help(Job& job, std::unique_lock<std::mutex>& lock) {
    job.help(lock);
    changed_.notify_all();
  }

  std::mutex guard_;
  std::condition_variable changed_;
  std::vector<Job*> jobs_;
  bool is_over_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace

void for_each_index(Threads threads, std::size_t n, const std::function<void(std::size_t)>& work) {
  const std::size_t most = std::min(threads.count, n);
  if (most <= 1) {
    for (std::size_t i = 0; i < n; ++i) work(i);
    return;
  }
  static Helpers helpers;
  helpers.provide(most - 1);
  Team own_team{threads.count};
  const bool is_outermost = team_of_this_thread == nullptr;
  if (is_outermost) team_of_this_thread = &own_team;
  Job job(n, most - 1, *team_of_this_thread, work);
  helpers.run(job);
  if (is_outermost) team_of_this_thread = nullptr;
  job.rethrow();
}

}  // namespace ringtrue
