#include "ringtrue/base/threads.hpp"

#include <gtest/gtest.h>

#include <atomic>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

namespace ringtrue {
namespace {

TEST(Threads, EveryIndexIsWorkedOnOnceWhateverTheNumber) {
  for (const std::size_t count : {0, 1, 2, 3, 8})
    for (const std::size_t n : {0, 1, 2, 7, 1000}) {
      std::vector<int> times(n, 0);
      for_each_index({count}, n, [&](std::size_t i) { ++times[i]; });
      EXPECT_EQ(times, std::vector<int>(n, 1)) << count << " threads, " << n;
    }
}

TEST(Threads, WorkIsSharedAmongThem) {
  // Each of two indices waits for the other to have begun, which one thread alone could not do.
  std::atomic<int> begun = 0;
  std::vector<std::thread::id> by(2);
  for_each_index({2}, 2, [&](std::size_t i) {
    by[i] = std::this_thread::get_id();
    for (++begun; begun < 2;) std::this_thread::yield();
  });
  EXPECT_NE(by[0], by[1]);
}

TEST(Threads, WhatTheWorkThrowsIsThrownOnce) {
  for (const std::size_t count : {1, 4}) {
    std::atomic<int> done = 0;
    const auto fail_at_3 = [&](std::size_t i) {
      if (i == 3) throw std::runtime_error("at " + std::to_string(i));
      ++done;
    };
    try {
      for_each_index({count}, 1000, fail_at_3);
      ADD_FAILURE() << "nothing was thrown";
    } catch (const std::runtime_error& error) {
      EXPECT_STREQ(error.what(), "at 3");
    }
    EXPECT_LT(done, 1000);
  }
}

// Two calls at once, as of two requests, each with calls in calls.
TEST(Threads, WorkWithinWorkIsDoneOnceByNoMoreThreadsThanAskedFor) {
  for (const std::size_t count : {1, 2, 3, 8}) {
    std::atomic<int> times = 0;
    std::atomic<std::size_t> at_once = 0, most_at_once = 0;
    const auto work = [&](std::size_t) {
      for (std::size_t now = ++at_once, most = most_at_once; now > most;)
        if (most_at_once.compare_exchange_weak(most, now)) break;
      std::this_thread::yield();
      ++times, --at_once;
    };
    const auto call = [&] {
      for_each_index({count}, 5, [&](std::size_t) {
        for_each_index({count}, 7, [&](std::size_t) { for_each_index({count}, 20, work); });
      });
    };
    call();
    EXPECT_LE(most_at_once, count);
    std::thread other(call);
    call();
    other.join();
    EXPECT_EQ(times, 3 * 5 * 7 * 20) << count << " threads";
  }
}

TEST(Threads, WhatIsThrownDeepDownComesOut) {
  std::atomic<int> begun = 0;
  const auto fail_in_the_middle = [&](std::size_t) {
    for_each_index({2}, 100, [&](std::size_t) {
      if (++begun == 50) throw std::runtime_error("deep down");
    });
  };
  EXPECT_THROW(for_each_index({2}, 2, fail_in_the_middle), std::runtime_error);
  // Whoever helps is free again afterwards: each index waits for the other.
  std::atomic<int> here = 0;
  for_each_index({2}, 2, [&](std::size_t) {
    for (++here; here < 2;) std::this_thread::yield();
  });
}

}  // namespace
}  // namespace ringtrue
