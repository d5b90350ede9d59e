#include "report/text_layout.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace ringtrue::report {
namespace {

TEST(TextLayout, LinesStayWithinTheWidthAndHang) {
  std::string text;
  for (int i = 0; i < 60; ++i) text += "wire" + std::to_string(i) + " ";
  std::string out;
  append_wrapped(out, text, 2, 6);
  std::istringstream lines(out);
  std::string line;
  std::size_t number = 0;
  while (std::getline(lines, line)) {
    EXPECT_LE(shown_width(line), k_line_width) << line;
    EXPECT_EQ(line.find_first_not_of(' '), number == 0 ? 2u : 6u) << line;
    ++number;
  }
  EXPECT_GT(number, 3u);
}

TEST(TextLayout, AWordLongerThanTheLineIsNotCut) {
  std::string out;
  const std::string path(150, 'p');
  append_wrapped(out, "see " + path, 0, 2);
  EXPECT_EQ(out, "see\n  " + path + "\n");
}

TEST(TextLayout, WidthCountsLettersAndNotBytes) {
  EXPECT_EQ(shown_width("680 Ω"), 5u);
  EXPECT_EQ(padded("Ω", 3), "Ω  ");
  EXPECT_EQ(padded("long", 2), "long");
}

TEST(TextLayout, CountsAgreeWithTheirNoun) {
  EXPECT_EQ(counted(0, "reading"), "0 readings");
  EXPECT_EQ(counted(1, "reading"), "1 reading");
  EXPECT_EQ(counted(2, "reading"), "2 readings");
}

TEST(TextLayout, NumbersHaveThreeDigitsAtMost) {
  EXPECT_EQ(number_text(5e-4), "0.0005");
  EXPECT_EQ(number_text(1e-4 / 3), "3.33e-5");
  EXPECT_EQ(number_text(1e-12), "1e-12");
  EXPECT_EQ(number_text(25), "25");
}

TEST(TextLayout, Lists) {
  const std::vector<std::string> names = {"a", "b", "c"};
  EXPECT_EQ(joined(names), "a, b, c");
  EXPECT_EQ(any_of(names), "a, b or c");
  EXPECT_EQ(any_of(std::span(names).first(1)), "a");
}

}  // namespace
}  // namespace ringtrue::report
