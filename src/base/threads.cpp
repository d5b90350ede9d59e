#include "ringtrue/base/threads.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace ringtrue {

Threads Threads::all() { return {std::max<std::size_t>(1, std::thread::hardware_concurrency())}; }

void for_each_index(Threads threads, std::size_t n, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  std::mutex guard;
  std::size_t failed_at = n;
  std::exception_ptr failure;
  const auto take_turns = [&] {
    for (std::size_t i = next++; i < n; i = next++) {
      try {
        work(i);
      } catch (...) {
        const std::lock_guard lock(guard);
        if (i < failed_at) failed_at = i, failure = std::current_exception();
        next = n;
      }
    }
  };
  {
    std::vector<std::jthread> others;
    for (std::size_t i = 1; i < std::min(threads.count, n); ++i) others.emplace_back(take_turns);
    take_turns();
  }
  if (failure) std::rethrow_exception(failure);
}

}  // namespace ringtrue
