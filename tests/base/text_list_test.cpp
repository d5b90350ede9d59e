#include "ringtrue/base/text_list.hpp"

#include <gtest/gtest.h>

#include <string>

namespace ringtrue {
namespace {

constexpr std::uintptr_t k_start = 0x100000000000u, k_reach = 0x80000000u;

/// A text at an address that nobody reads.
std::string_view text_at(std::uintptr_t address, std::size_t length) {
  return {reinterpret_cast<const char*>(address), length};
}

TEST(TextList, TextsComeBackAsTheyWere) {
  const std::string line = "W1,K1:A1,X1:5.int";
  TextList list;
  for (const std::string_view text :
       {std::string_view(line).substr(3, 5), std::string_view(line).substr(0, 2), std::string_view(line),
        std::string_view("elsewhere")})
    list.push_back(text);
  ASSERT_EQ(list.size(), 4u);
  EXPECT_EQ(list[0], "K1:A1");
  EXPECT_EQ(list[1], "W1") << "stands before the first text";
  EXPECT_EQ(list[2], line);
  EXPECT_EQ(list[3], "elsewhere");
}

TEST(TextList, TextsOfFarMemoryComeBackToo) {
  TextList list;
  for (const std::uintptr_t address :
       {k_start, k_start - k_reach, k_start - k_reach - 1, k_start + k_reach - 1, k_start + k_reach,
        std::uintptr_t{16}, std::uintptr_t{0x7FFFFFFFFFF0u}})
    list.push_back(text_at(address, 7));
  list.push_back(text_at(k_start, 0xFFFFFFFEu));
  list.push_back(text_at(k_start, 0xFFFFFFFFu));
  list.push_back(text_at(k_start, 0x100000000u));
  EXPECT_EQ(list[0].data(), text_at(k_start, 7).data());
  EXPECT_EQ(list[1].data(), text_at(k_start - k_reach, 7).data());
  EXPECT_EQ(list[2].data(), text_at(k_start - k_reach - 1, 7).data());
  EXPECT_EQ(list[3].data(), text_at(k_start + k_reach - 1, 7).data());
  EXPECT_EQ(list[4].data(), text_at(k_start + k_reach, 7).data());
  EXPECT_EQ(list[5].data(), text_at(16, 7).data());
  EXPECT_EQ(list[6].data(), text_at(0x7FFFFFFFFFF0u, 7).data());
  for (std::size_t i = 0; i < 7; ++i) EXPECT_EQ(list[i].size(), 7u);
  EXPECT_EQ(list[7].size(), 0xFFFFFFFEu);
  EXPECT_EQ(list[8].size(), 0xFFFFFFFFu);
  EXPECT_EQ(list[9].size(), 0x100000000u);
}

TEST(TextList, AFirstTextNearTheBottomOfMemoryIsNoOrigin) {
  TextList list;
  list.push_back(text_at(32, 3));
  list.push_back(text_at(16, 3));
  EXPECT_EQ(list[0].data(), text_at(32, 3).data());
  EXPECT_EQ(list[1].data(), text_at(16, 3).data());
}

TEST(TextList, EmptyTextsHaveNoBytes) {
  TextList list;
  list.push_back("");
  list.push_back("W1");
  list.resize(4);
  EXPECT_EQ(list[0].data(), nullptr);
  EXPECT_EQ(list[1], "W1");
  EXPECT_EQ(list[3].data(), nullptr);
}

}  // namespace
}  // namespace ringtrue
