#include "ringtrue/live/clock.hpp"

#include <array>
#include <atomic>
#include <chrono>
#include <cstdio>
#include <ctime>

namespace ringtrue {

std::string time_now() {
  static std::atomic<std::int64_t> last{0};
  std::int64_t now = std::chrono::duration_cast<std::chrono::milliseconds>(
                         std::chrono::system_clock::now().time_since_epoch())
                         .count();
  std::int64_t before = last.load();
  std::int64_t given = 0;
  do given = now > before ? now : before + 1;
  while (!last.compare_exchange_weak(before, given));
  const auto seconds = static_cast<std::time_t>(given / 1000);
  std::tm parts{};
  gmtime_r(&seconds, &parts);
  std::array<char, 40> text{};
  const std::size_t size = std::strftime(text.data(), text.size(), "%Y-%m-%dT%H:%M:%S", &parts);
  std::snprintf(text.data() + size, text.size() - size, ".%03dZ", static_cast<int>(given % 1000));
  return text.data();
}

}  // namespace ringtrue
