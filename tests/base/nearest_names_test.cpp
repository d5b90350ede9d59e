#include "ringtrue/base/nearest_names.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

// Worked by hand; kitten/sitting = 3 is the textbook case of Levenshtein's distance (from memory).
TEST(NearestNames, CountsEditsAndExchanges) {
  EXPECT_EQ(edit_distance("kitten", "sitting", 9), 3u);
  EXPECT_EQ(edit_distance("X1:12", "X1:21", 9), 1u);
  EXPECT_EQ(edit_distance("k3:a1", "K3:A1", 9), 0u);
  EXPECT_EQ(edit_distance("X1:5", "X1:5.int", 9), 4u);
  EXPECT_EQ(edit_distance("A", "BCDEF", 2), 3u) << "above the limit: limit + 1";
}

TEST(NearestNames, GivesTheNearestFirstAndNothingFarOff) {
  NearestNames nearest("K3:A3");
  for (const char* name : {"X1:5", "K3:A2", "K3:A1", "K13:A3", "S1:13"}) nearest.offer(name);
  EXPECT_EQ(nearest.take(), (std::vector<std::string>{"K13:A3", "K3:A1", "K3:A2"}));
}

}  // namespace
}  // namespace ringtrue
