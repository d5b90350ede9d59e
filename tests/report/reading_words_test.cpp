#include "report/reading_words.hpp"

#include <gtest/gtest.h>

namespace ringtrue::report {
namespace {

TEST(ReadingWords, ConditionIsSaidAndNotSpelt) {
  EXPECT_EQ(condition_words("", Detail::short_lists), "");
  EXPECT_EQ(condition_words("S1=operated", Detail::short_lists), "S1 operated");
  EXPECT_EQ(condition_words("S1=operated; S2=position 2", Detail::short_lists), "S1 operated; S2 position 2");
  EXPECT_EQ(condition_words("W12@=GD1-X1:5=lifted", Detail::short_lists), "W12@=GD1-X1:5 lifted");
}

TEST(ReadingWords, ManyPartsInOneStateAreToldTogether) {
  const char* condition =
      "A0=unplugged; K1=operated; A1=unplugged; A2=unplugged; A3=unplugged; A4=unplugged; A5=unplugged";
  EXPECT_EQ(condition_words(condition, Detail::short_lists),
            "A0, A1, A2, A3 and 2 more unplugged; K1 operated");
  EXPECT_EQ(condition_words(condition, Detail::everything), "A0, A1, A2, A3, A4, A5 unplugged; K1 operated");
}

}  // namespace
}  // namespace ringtrue::report
