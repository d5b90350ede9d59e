#pragma once
#include <httplib.h>
#include <condition_variable>
#include <cstddef>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace ringtrue::serve {

/// A pool of threads for connections, each of which holds one. Whoever comes while all are held goes to a few
/// threads that only turn away.
class Workers final : public httplib::TaskQueue {
 public:
  explicit Workers(std::size_t count);
  ~Workers() override = default;

  void enqueue(std::function<void()> connection) override;
  void shutdown() override;
  /// The calling thread is one of those that turn away.
  [[nodiscard]] static bool is_turning_away();

 private:
  struct Queue {
    std::deque<std::function<void()>> connections;
    std::condition_variable filled;
  };
  void work(Queue& queue, bool turns_away);

  std::mutex mutex_;
  Queue held_, turned_away_;
  std::size_t free_;  ///< threads of the pool that hold no connection, less those that wait for one
  bool is_over_ = false;
  std::vector<std::thread> threads_;
};

}  // namespace ringtrue::serve
