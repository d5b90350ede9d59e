// Rows that repeat, by comparing each with each.
#include "ringtrue/base/repeats.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <optional>
#include <random>
#include <utility>
#include <vector>

#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using Pair = std::pair<std::uint32_t, std::uint32_t>;

bool is_same(const std::optional<Pair>& x, const std::optional<Pair>& y) {
  return x && y && (*x == *y || *x == Pair(y->second, y->first));
}

TEST(Repeats, NoneIsLeftOutAndNoneThatStandsAloneByANumberIsGiven) {
  std::mt19937 random(testing::test_seed());
  std::size_t repeated = 0, given = 0;
  for (int round = 0; round < 200; ++round) {
    constexpr std::uint32_t k_things = 40;
    std::vector<std::optional<Pair>> rows(random() % 60);
    for (auto& row : rows)
      if (random() % 8 != 0) row = Pair(random() % k_things, random() % k_things);
    const auto count = static_cast<std::uint32_t>(rows.size());
    const auto found = that_may_repeat(count, k_things, [&](std::uint32_t i) { return rows[i]; });
    given += found.size();
    for (std::uint32_t i = 0; i < count; ++i) {
      const bool is_given = std::binary_search(found.begin(), found.end(), i);
      bool has_twin = false, has_low = false;
      for (std::uint32_t k = 0; k < count; ++k) {
        if (k == i || !rows[k] || !rows[i]) continue;
        has_twin = has_twin || is_same(rows[i], rows[k]);
        has_low =
            has_low || std::min(rows[i]->first, rows[i]->second) == std::min(rows[k]->first, rows[k]->second);
      }
      repeated += has_twin ? 1u : 0u;
      EXPECT_LE(has_twin, is_given) << "round " << round << ", row " << i;
      EXPECT_LE(is_given, has_low) << "round " << round << ", row " << i;
    }
  }
  EXPECT_GT(repeated, 50u);
  EXPECT_GT(given, repeated);
}

}  // namespace
}  // namespace ringtrue
