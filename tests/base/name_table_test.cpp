#include "ringtrue/base/name_table.hpp"

#include <gtest/gtest.h>

#include <deque>
#include <map>
#include <random>

namespace ringtrue {
namespace {

TEST(NameTable, NumbersNamesInOrderOfFirstSight) {
  NameTable table;
  EXPECT_EQ(table.intern("X1:5"), 0u);
  EXPECT_EQ(table.intern("K3:A1"), 1u);
  EXPECT_EQ(table.intern("X1:5"), 0u);
  EXPECT_EQ(table.name(1), "K3:A1");
  EXPECT_EQ(table.find("K3:A2"), NameTable::k_absent);
}

TEST(NameTable, NamesThatDifferInOneByteAnywhereAreDifferent) {
  std::deque<std::string> names;
  NameTable table;
  for (std::size_t length = 1; length <= 40; ++length)
    for (std::size_t at = 0; at < length; ++at) {
      std::string name(length, 'a');
      name[at] = 'b';
      names.push_back(name);
      EXPECT_EQ(table.intern(names.back()), names.size() - 1) << name;
    }
}

// Against std::map as the naive model.
TEST(NameTable, AgreesWithAMapOnRandomNames) {
  std::mt19937 random(20260302);
  std::deque<std::string> kept;
  std::map<std::string, std::uint32_t> model;
  NameTable table;
  for (int i = 0; i < 20000; ++i) {
    const std::string name = "X" + std::to_string(random() % 60) + ":" + std::to_string(random() % 150);
    const auto [at, is_new] = model.emplace(name, static_cast<std::uint32_t>(model.size()));
    EXPECT_EQ(table.intern(kept.emplace_back(name)), at->second);
  }
  std::vector<std::string_view> asked;
  for (const auto& [name, number] : model) asked.push_back(name);
  asked.push_back("X99:1");
  std::vector<std::uint32_t> numbers(asked.size());
  table.find_all(asked, numbers);
  for (std::size_t i = 0; i + 1 < asked.size(); ++i) EXPECT_EQ(numbers[i], model.at(std::string(asked[i])));
  EXPECT_EQ(numbers.back(), NameTable::k_absent);
}

// Batches of any size, across growing, with names that stand in one batch twice.
TEST(NameTable, ManyAtOnceAreNumberedAsOneByOne) {
  std::mt19937 random(20260303);
  std::deque<std::string> kept;
  NameTable one_by_one, at_once;
  for (int batch = 0; batch < 300; ++batch) {
    std::vector<std::string_view> names;
    for (std::size_t left = random() % 300; left > 0; --left)
      names.push_back(
          kept.emplace_back("X" + std::to_string(random() % 90) + ":" + std::to_string(random() % 200)));
    std::vector<std::uint32_t> numbers(names.size());
    at_once.intern_all(names, numbers);
    for (std::size_t i = 0; i < names.size(); ++i) EXPECT_EQ(numbers[i], one_by_one.intern(names[i]));
  }
  EXPECT_EQ(at_once.size(), one_by_one.size());
}

TEST(NameTable, RoomForMoreKeepsWhatIsThere) {
  NameTable table;
  table.intern("X1:5");
  table.intern("K3:A1");
  table.reserve(5000);
  EXPECT_EQ(table.find("X1:5"), 0u);
  EXPECT_EQ(table.find("K3:A1"), 1u);
  EXPECT_EQ(table.intern("K3:A2"), 2u);
}

}  // namespace
}  // namespace ringtrue
