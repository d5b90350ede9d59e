#include "plan/group_tests.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <set>
#include <vector>

namespace ringtrue::testing {
namespace {

using Codes = std::vector<std::uint32_t>;

/// Two bundles are joined; the meter beeps in a test if the copper reaches from the one clip to the other.
std::uint32_t beeps(const Codes& codes, std::size_t joined, std::size_t with, std::uint32_t tests) {
  std::uint32_t count = 0;
  for (std::uint32_t test = 0; test < tests; ++test) {
    std::set<std::size_t> clip[2];
    for (std::size_t i = 0; i < codes.size(); ++i) clip[(codes[i] >> test) & 1].insert(i);
    count += (clip[0].count(joined) && clip[1].count(with)) || (clip[1].count(joined) && clip[0].count(with));
  }
  return count;
}

/// Some family of so many two-group tests, each a set of bundles, parts every two of them.
bool some_family_parts(std::size_t bundles, std::uint32_t tests) {
  const std::uint64_t groups = std::uint64_t{1} << bundles;
  std::uint64_t families = 1;
  for (std::uint32_t i = 0; i < tests; ++i) families *= groups;
  for (std::uint64_t family = 0; family < families; ++family) {
    bool parts_all = true;
    for (std::size_t a = 0; a < bundles && parts_all; ++a)
      for (std::size_t b = a + 1; b < bundles && parts_all; ++b) {
        bool parted = false;
        for (std::uint64_t rest = family, i = 0; i < tests; ++i, rest /= groups)
          parted = parted || ((rest % groups >> a) & 1) != ((rest % groups >> b) & 1);
        parts_all = parted;
      }
    if (parts_all) return true;
  }
  return false;
}

TEST(GroupTests, NoFewerTestsPartAllOfUpToSixBundles) {
  for (std::size_t n = 0; n <= 6; ++n) {
    const std::uint32_t tests = tests_parting(n);
    EXPECT_TRUE(some_family_parts(n, tests)) << n;
    if (tests == 0) continue;
    EXPECT_FALSE(some_family_parts(n, tests - 1)) << n;
  }
}

TEST(GroupTests, CountsOfTheTable) {
  struct Sizes {
    std::size_t bundles;
    std::uint32_t parting, stuck, locating;
  };
  for (const Sizes& s :
       {Sizes{0, 0, 0, 0}, Sizes{1, 0, 0, 0}, Sizes{2, 1, 2, 2}, Sizes{6, 3, 3, 6}, Sizes{7, 3, 4, 6},
        Sizes{14, 4, 4, 8}, Sizes{15, 4, 5, 8}, Sizes{100, 7, 7, 14}, Sizes{1000000, 20, 20, 40}}) {
    EXPECT_EQ(tests_parting(s.bundles), s.parting) << s.bundles;
    EXPECT_EQ(tests_stuck(s.bundles), s.stuck) << s.bundles;
    EXPECT_EQ(tests_locating(s.bundles), s.locating) << s.bundles;
  }
}

void expect_distinct_and_balanced(const Codes& codes, std::uint32_t digits) {
  EXPECT_EQ(std::set<std::uint32_t>(codes.begin(), codes.end()).size(), codes.size());
  for (const std::uint32_t code : codes) EXPECT_EQ(code >> digits, 0u);
  for (std::uint32_t test = 0; test < digits; ++test) {
    const auto ones = std::count_if(codes.begin(), codes.end(), [&](auto c) { return (c >> test) & 1; });
    const auto zeros = static_cast<std::ptrdiff_t>(codes.size()) - ones;
    EXPECT_GE(std::min(ones, zeros), 1) << codes.size();
    EXPECT_LE(std::abs(ones - zeros), 1) << codes.size();
  }
}

TEST(GroupTests, CodesAreDistinctAndTheClipsBalanced) {
  for (std::size_t n = 0; n <= 300; ++n) {
    const Codes parting = codes_parting(n);
    ASSERT_EQ(parting.size(), n);
    expect_distinct_and_balanced(parting, tests_parting(n));
  }
}

TEST(GroupTests, TwentyDigitsForAMillionBundles) {
  const Codes codes = codes_parting(1000000);
  expect_distinct_and_balanced(codes, 20);
}

TEST(GroupTests, AnyTwoJoinedBundlesBeepInSomeTest) {
  for (std::size_t n = 2; n <= 40; ++n) {
    const Codes codes = codes_parting(n);
    for (std::size_t a = 0; a < n; ++a)
      for (std::size_t b = a + 1; b < n; ++b) EXPECT_GE(beeps(codes, a, b, tests_parting(n)), 1u) << n;
  }
}

/// What the plan says of the alternatives: so many digits are enough for codes with neither zeros nor ones
/// alone.
TEST(GroupTests, WithoutTheTwoPlainCodesThereAreJustEnough) {
  for (std::size_t n = 2; n <= 2000; ++n) {
    EXPECT_GE((std::size_t{1} << tests_stuck(n)) - 2, n);
    EXPECT_LT((std::size_t{1} << (tests_stuck(n) - 1)), n + 2);
  }
}

TEST(GroupTests, SixBundlesAliasWithoutComplementsAndNotWithThem) {
  ASSERT_EQ(tests_stuck(6), 3u);
  const Codes codes = {0b001, 0b010, 0b011, 0b100, 0b101, 0b110};
  // What 001 and 010 show when joined is the good code of a third bundle.
  EXPECT_EQ(std::count(codes.begin(), codes.end(), 0b001u | 0b010u), 1);

  ASSERT_EQ(tests_locating(6), 6u);
  Codes both;
  for (const std::uint32_t code : codes) both.push_back(code | (~code & 0b111u) << 3u);
  for (const std::uint32_t a : both)
    for (const std::uint32_t b : both) EXPECT_EQ(std::count(both.begin(), both.end(), a | b), a == b ? 1 : 0);
}

}  // namespace
}  // namespace ringtrue::testing
