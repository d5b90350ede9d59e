#include "serve/workers.hpp"

namespace ringtrue::serve {

namespace {

constexpr std::size_t k_turning_away = 2;
thread_local bool turning_away = false;

}  // namespace

Workers::Workers(std::size_t count) : free_(count) {
  for (std::size_t i = 0; i < count; ++i) threads_.emplace_back([this] { work(held_, false); });
  for (std::size_t i = 0; i < k_turning_away; ++i)
    threads_.emplace_back([this] { work(turned_away_, true); });
}

void Workers::enqueue(std::function<void()> connection) {
  Queue* queue = &turned_away_;
  {
    const std::lock_guard lock(mutex_);
    if (free_ > 0) {
      --free_;
      queue = &held_;
    }
    queue->connections.push_back(std::move(connection));
  }
  queue->filled.notify_one();
}

void Workers::shutdown() {
  {
    const std::lock_guard lock(mutex_);
    is_over_ = true;
  }
  held_.filled.notify_all();
  turned_away_.filled.notify_all();
  for (std::thread& thread : threads_) thread.join();
}

bool Workers::is_turning_away() { return turning_away; }

void Workers::work(Queue& queue, bool turns_away) {
  turning_away = turns_away;
  for (;;) {
    std::function<void()> connection;
    {
      std::unique_lock lock(mutex_);
      queue.filled.wait(lock, [&] { return is_over_ || !queue.connections.empty(); });
      if (queue.connections.empty()) return;
      connection = std::move(queue.connections.front());
      queue.connections.pop_front();
    }
    connection();
    if (turns_away) continue;
    const std::lock_guard lock(mutex_);
    ++free_;
  }
}

}  // namespace ringtrue::serve
