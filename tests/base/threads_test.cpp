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

}  // namespace
}  // namespace ringtrue
