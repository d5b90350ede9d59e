#include "ringtrue/base/nearest_names.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace ringtrue {
namespace {

/// By the definition: what the last letters of both cost, and what is left.
std::size_t counted(std::string_view a, std::string_view b) {
  if (a.empty() || b.empty()) return a.size() + b.size();
  const auto cut = [](std::string_view text, std::size_t by) { return text.substr(0, text.size() - by); };
  std::size_t least = std::min(counted(cut(a, 1), b), counted(a, cut(b, 1))) + 1;
  least = std::min(least, counted(cut(a, 1), cut(b, 1)) + (a.back() == b.back() ? 0 : 1));
  if (a.size() > 1 && b.size() > 1 && a.back() == b[b.size() - 2] && a[a.size() - 2] == b.back())
    least = std::min(least, counted(cut(a, 2), cut(b, 2)) + 1);
  return least;
}

// Worked by hand; kitten/sitting = 3 is the textbook case of Levenshtein's distance (from memory).
TEST(NearestNames, CountsEditsAndExchanges) {
  EXPECT_EQ(edit_distance("kitten", "sitting", 9), 3u);
  EXPECT_EQ(edit_distance("X1:12", "X1:21", 9), 1u);
  EXPECT_EQ(edit_distance("k3:a1", "K3:A1", 9), 0u);
  EXPECT_EQ(edit_distance("X1:5", "X1:5.int", 9), 4u);
  EXPECT_EQ(edit_distance("A", "BCDEF", 2), 3u) << "above the limit: limit + 1";
}

TEST(NearestNames, UpToEachLimitTheDistanceIsThatOfTheDefinition) {
  std::mt19937 random(20261127);
  const auto name = [&] {
    std::string made(random() % 7, ' ');
    for (char& c : made) c = "abc"[random() % 3];
    return made;
  };
  for (int turn = 0; turn < 500; ++turn) {
    const std::string a = name(), b = name();
    const std::size_t distance = counted(a, b);
    for (std::size_t limit = 0; limit < 9; ++limit)
      ASSERT_EQ(edit_distance(a, b, limit), std::min(distance, limit + 1)) << a << " " << b << " " << limit;
  }
}

TEST(NearestNames, GivesTheNearestFirstAndNothingFarOff) {
  NearestNames nearest("K3:A3");
  for (const char* name : {"X1:5", "K3:A2", "K3:A1", "K13:A3", "S1:13"}) nearest.offer(name);
  EXPECT_EQ(nearest.take(), (std::vector<std::string>{"K13:A3", "K3:A1", "K3:A2"}));
}

}  // namespace
}  // namespace ringtrue
