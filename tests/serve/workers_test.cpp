#include "serve/workers.hpp"

#include <gtest/gtest.h>

#include <future>

namespace ringtrue::serve {
namespace {

/// Connections that last until they are let go, and what became of each.
class Connections {
 public:
  explicit Connections(Workers& workers) : workers_(workers) {}

  /// Whether the new connection is turned away.
  bool come() {
    auto answer = std::make_shared<std::promise<bool>>();
    auto turned_away = answer->get_future();
    workers_.enqueue([this, answer] {
      const bool is_turned_away = Workers::is_turning_away();
      answer->set_value(is_turned_away);
      if (is_turned_away) return;
      std::unique_lock lock(mutex_);
      changed_.wait(lock, [this] { return may_go_ > 0; });
      --may_go_;
      ++gone_;
      changed_.notify_all();
    });
    return turned_away.get();
  }

  /// Ends so many, and waits until they are over.
  void let_go(int count) {
    std::unique_lock lock(mutex_);
    may_go_ += count;
    changed_.notify_all();
    changed_.wait(lock, [&] { return may_go_ == 0; });
  }

  int gone() {
    const std::lock_guard lock(mutex_);
    return gone_;
  }

 private:
  Workers& workers_;
  std::mutex mutex_;
  std::condition_variable changed_;
  int may_go_ = 0, gone_ = 0;
};

TEST(Workers, HoldSoManyConnectionsAndTurnTheNextAway) {
  constexpr int k_held = 128;
  Workers workers(k_held);
  Connections connections(workers);
  for (int i = 0; i < k_held; ++i) ASSERT_FALSE(connections.come()) << i;
  for (int i = 0; i < 50; ++i) ASSERT_TRUE(connections.come()) << i;
  connections.let_go(1);
  // The thread counts itself free only after its connection has ended.
  while (connections.come()) {
  }
  EXPECT_TRUE(connections.come());
  connections.let_go(k_held);
  workers.shutdown();
  EXPECT_EQ(connections.gone(), k_held + 1);
}

TEST(Workers, ShutDownAfterAllThatCameIsDone) {
  Workers workers(3);
  std::atomic<int> done = 0;
  for (int i = 0; i < 500; ++i) workers.enqueue([&] { ++done; });
  workers.shutdown();
  EXPECT_EQ(done, 500);
  EXPECT_FALSE(Workers::is_turning_away());
}

}  // namespace
}  // namespace ringtrue::serve
