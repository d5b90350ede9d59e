#include "picture/text_fit.hpp"

#include <gtest/gtest.h>

#include <numeric>

namespace ringtrue::picture {
namespace {

// The table of well-formed byte sequences is that of the Unicode Standard 15.0, table 3-7.
TEST(ReadableText, WhatIsNoUtf8IsReplacedByteByByte) {
  EXPECT_EQ(readable("K1:A1 Öl \u20AC \U0001F50C"), "K1:A1 Öl \u20AC \U0001F50C");
  EXPECT_EQ(readable("a\xFFz"), "a\uFFFDz");
  EXPECT_EQ(readable("a\xC3"), "a\uFFFD") << "cut short";
  EXPECT_EQ(readable("\xC3(z"), "\uFFFD(z");
  EXPECT_EQ(readable("\xC0\xAF"), "\uFFFD\uFFFD") << "longer than need be";
  EXPECT_EQ(readable("\xE0\x9F\xBF"), "\uFFFD\uFFFD\uFFFD") << "longer than need be";
  EXPECT_EQ(readable("\xED\xA0\x80"), "\uFFFD\uFFFD\uFFFD") << "a surrogate";
  EXPECT_EQ(readable("\xF4\x90\x80\x80"), "\uFFFD\uFFFD\uFFFD\uFFFD") << "beyond U+10FFFF";
}

TEST(ReadableText, WhatXmlLacksIsReplacedOnce) {
  EXPECT_EQ(readable(std::string_view("a\0b\x1B[0m", 7)), "a\uFFFDb\uFFFD[0m");
  EXPECT_EQ(readable("\xEF\xBF\xBE"), "\uFFFD") << "U+FFFE";
  EXPECT_EQ(readable("one\ttwo\r\nthree"), "one two  three");
  EXPECT_EQ(readable("\u202Eback\u2069"), "[U+202E]back[U+2069]") << "nothing turns the text around";
}

TEST(WrappedText, BreaksAtBlanksBeforeSigns) {
  EXPECT_EQ(wrapped("bridge X8:11-X8:12", 116, 13, Weight::bold),
            (std::vector<std::string>{"bridge", "X8:11-X8:12"}));
  EXPECT_EQ(wrapped("CABINET-NORTH-STRIP:17", 116, 13, Weight::regular),
            (std::vector<std::string>{"CABINET-", "NORTH-", "STRIP:17"}));
  EXPECT_TRUE(wrapped("", 116, 13, Weight::regular).empty());
  EXPECT_TRUE(wrapped("   ", 116, 13, Weight::regular).empty());
}

TEST(WrappedText, LosesNothingAndFits) {
  const std::string text = readable(std::string(90, 'W') + "\xF0\x9F\x94\x8C" + std::string(30, 'i') + "Ж:Ж");
  for (const int width : {10, 37, 116, 900})
    for (const Weight weight : {Weight::regular, Weight::bold}) {
      const auto lines = wrapped(text, width, 13, weight);
      EXPECT_EQ(std::accumulate(lines.begin(), lines.end(), std::string()), text);
      for (const std::string& line : lines)
        if (line.size() > 4) {
          EXPECT_LE(greatest_width(line, 13, weight), width) << line;
        }
    }
}

TEST(WrappedText, LeavesAMarkOnItsLetter) {
  const auto wrap = [](std::string_view text) { return wrapped(text, 40, 13, Weight::regular); };
  const std::string letter = "a\u0337\u0335\u0322";
  for (const std::string& line : wrap(letter + letter + letter + letter + letter))
    EXPECT_EQ(line.front(), 'a') << line;
  EXPECT_EQ(wrap("ab-\u0301cdefg"), (std::vector<std::string>{"ab-\u0301", "cdefg"}));
}

TEST(FittedText, CutsNoCharacterBehindManyBlanks) {
  for (std::size_t blanks = 400; blanks < 480; ++blanks) {
    const std::string text = "a" + std::string(blanks, ' ') + "\u00E9" + std::string(500, 'b');
    for (const std::string& line : fitted(text, 116, 13, Weight::regular, 4)) EXPECT_EQ(readable(line), line);
  }
}

TEST(FittedText, EndsInAnEllipsisWithinItsWidthAndLines) {
  const auto fit = [](std::string_view text, std::size_t most) {
    return fitted(text, 116, 13, Weight::regular, most);
  };
  EXPECT_EQ(fit("X1:4", 1), (std::vector<std::string>{"X1:4"}));
  for (const std::string& text :
       {std::string(4000, 'W'), std::string(4000, 'i'), "X" + std::string(500, ' ') + "Y",
        readable("\u202E" + std::string(300, 'a')), std::string(60, 'e') + "\u0301\u0301"})
    for (const std::size_t most : {1u, 3u}) {
      const auto lines = fit(text, most);
      ASSERT_LE(lines.size(), most);
      for (const std::string& line : lines) {
        EXPECT_LE(greatest_width(line, 13, Weight::regular), 116) << line;
        EXPECT_EQ(readable(line), line) << "no character is cut in two";
      }
      if (wrapped(text, 116, 13, Weight::regular).size() > most) {
        EXPECT_TRUE(lines.back().ends_with("\u2026")) << lines.back();
      }
    }
}

}  // namespace
}  // namespace ringtrue::picture
