#pragma once
#include <cstddef>
#include <functional>

namespace ringtrue {

/// How many threads a call may use. The answer is the same, to the last byte, whatever the number.
struct Threads {
  std::size_t count = 1;

  /// As many as the machine has cores.
  [[nodiscard]] static Threads all();
};

/// Calls `work(i)` once for each i below `n`, in any order, on up to `threads.count` threads of which the
/// caller's is one, and returns when all are done. `work` must not touch what another index writes; it may
/// call this in turn, and then gets the threads that have nothing else to do. What it throws is thrown here,
/// after all threads have stopped; of several the first by index that was met.
///
/// The threads beside the callers' are the same for all calls, and wait for the next one until the process
/// ends.
void for_each_index(Threads threads, std::size_t n, const std::function<void(std::size_t)>& work);

}  // namespace ringtrue
