#include "ringtrue/live/clock.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <set>
#include <string>
#include <thread>
#include <vector>

#include "ringtrue/model/readings.hpp"

namespace ringtrue {
namespace {

TEST(TimeNow, IsATimeThatReadingsTake) {
  using std::chrono::system_clock;
  const auto seconds = [](system_clock::time_point at) {
    return std::chrono::duration<double>(at.time_since_epoch()).count();
  };
  const double before = seconds(system_clock::now());
  const std::string text = time_now();
  const double after = seconds(system_clock::now());
  EXPECT_THAT(text,
              ::testing::MatchesRegex("[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\\.[0-9]{3}Z"));
  const auto given = seconds_of_time(text);
  ASSERT_TRUE(given) << text;
  EXPECT_GE(*given, before - 0.002);
  EXPECT_LE(*given, after + 0.002);
}

TEST(TimeNow, RisesWithEveryCallFromWhateverThread) {
  constexpr std::size_t k_threads = 5, k_calls = 1000;
  std::array<std::vector<std::string>, k_threads> given;
  {
    std::vector<std::thread> threads;
    for (std::vector<std::string>& mine : given)
      threads.emplace_back([&mine] {
        for (std::size_t i = 0; i < k_calls; ++i) mine.push_back(time_now());
      });
    for (std::thread& thread : threads) thread.join();
  }
  std::set<double> all;
  for (const std::vector<std::string>& mine : given) {
    double last = 0;
    for (const std::string& text : mine) {
      const double seconds = seconds_of_time(text).value();
      EXPECT_GT(seconds, last) << text;
      last = seconds;
      all.insert(seconds);
    }
    EXPECT_TRUE(std::is_sorted(mine.begin(), mine.end())) << "as text they sort the same";
  }
  EXPECT_EQ(all.size(), k_threads * k_calls);
}

}  // namespace
}  // namespace ringtrue
