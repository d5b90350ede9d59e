#include "ringtrue/live/clock.hpp"

#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <ctime>

namespace ringtrue {

namespace {

std::int64_t next_millisecond() {
  using std::chrono::milliseconds;
  static std::atomic<std::int64_t> last = 0;
  const auto since_1970 = std::chrono::system_clock::now().time_since_epoch();
  const std::int64_t now = std::chrono::duration_cast<milliseconds>(since_1970).count();
  std::int64_t before = last.load();
  std::int64_t given = 0;
  do given = now > before ? now : before + 1;
  while (!last.compare_exchange_weak(before, given));
  return given;
}

}  // namespace

std::string time_now() {
  const std::int64_t milliseconds = next_millisecond();
  const auto seconds = static_cast<std::time_t>(milliseconds / 1000);
  std::tm utc{};
  gmtime_r(&seconds, &utc);
  std::array<char, 32> text{};
  const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S", &utc);
  std::snprintf(text.data() + length, text.size() - length, ".%03dZ", static_cast<int>(milliseconds % 1000));
  return text.data();
}

}  // namespace ringtrue
