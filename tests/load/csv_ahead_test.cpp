// The records that are split ahead against those that one reader gives.
#include "load/csv_ahead.hpp"

#include <gtest/gtest.h>

#include <random>
#include <stdexcept>
#include <string>

#include "load/load_support.hpp"
#include "ringtrue/base/threads.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using load::CsvAhead;
using load::CsvReader;
using namespace testing_support;

constexpr std::size_t k_cells = 3;

/// Rows of three cells, and now and then one that is too long, quoted, or has text behind its quotes.
std::string random_table(unsigned seed, unsigned rows) {
  std::mt19937 random(seed);
  std::string text = "a,b,c\n";
  for (unsigned row = 0; row < rows; ++row) {
    const std::string number = std::to_string(row);
    switch (random() % 40) {
      case 0:
        text += number + ",two,three,four\n";
        break;
      case 1:
        text += "\"" + number + "\"x,two,three\n";
        break;
      case 2:
        text += "\"" + number + "\nand \"\"more\"\"\",two\n";
        break;
      case 3:
        text += ",,\n";
        break;
      default:
        text += number + ",X1:" + number + ",K1:A1\n";
    }
  }
  return random() % 4 == 0 ? text + "\"never closed" : text;
}

template <class Source>
std::string all_of(Source& source) {
  std::string text;
  for (auto found = source.next(); found != CsvReader::Found::end; found = source.next()) {
    if (found == CsvReader::Found::mistake) {
      text += to_text(source.mistake()) + "\n";
      continue;
    }
    text += std::to_string(source.line());
    for (const std::string_view cell : source.cells()) text += "|" + std::string(cell);
    text += "\n";
  }
  return text;
}

/// Stands behind the header.
class Table {
 public:
  explicit Table(std::string_view text) : file_(file_text(text)), reader(file_) {
    EXPECT_EQ(reader.next(), CsvReader::Found::record);
    reader.expect_cells(k_cells);
  }

 private:
  load::FileText file_;

 public:
  CsvReader reader;
};

TEST(CsvAhead, RecordsAreThoseOfTheReaderWhoeverSplitsThem) {
  for (unsigned i = 0; i < 40; ++i) {
    const std::string text = random_table(testing::test_seed() * 1000u + i, 100 * i);
    Table plain(text), alone(text), helped(text);
    const std::string expected = all_of(plain.reader);
    CsvAhead without_help(alone.reader, k_cells);
    EXPECT_EQ(all_of(without_help), expected);
    CsvAhead with_help(helped.reader, k_cells);
    std::string found;
    for_each_index({2}, 2, [&](std::size_t which) {
      if (which != 0) return with_help.help();
      const CsvAhead::Taking until_the_end(with_help);
      found = all_of(with_help);
    });
    EXPECT_EQ(found, expected) << "RINGTRUE_TEST_SEED=" << testing::test_seed() << ", table " << i;
  }
}

TEST(CsvAhead, HelpEndsWhenNobodyTakesRecordsAnyMore) {
  const std::string text = random_table(1, 100'000);
  Table table(text);
  CsvAhead records(table.reader, k_cells);
  const auto take_three = [&](std::size_t which) {
    if (which != 0) return records.help();
    const CsvAhead::Taking for_a_while(records);
    for (int i = 0; i < 3; ++i) (void)records.next();
    throw std::runtime_error("enough");
  };
  EXPECT_THROW(for_each_index({2}, 2, take_three), std::runtime_error);
}

}  // namespace
}  // namespace ringtrue
