#include "load/csv.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <random>
#include <sstream>
#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using load::CsvReader;

/// All records as `line: cell|cell`, mistakes as their message.
std::string records(std::string_view text, std::size_t expected_cells = 0) {
  const load::FileText file = file_text(text);
  CsvReader reader(file);
  reader.expect_cells(expected_cells);
  std::string out;
  for (auto found = reader.next(); found != CsvReader::Found::end; found = reader.next()) {
    if (!out.empty()) out += '\n';
    if (found == CsvReader::Found::mistake) {
      out += to_text(reader.mistake());
      continue;
    }
    out += std::to_string(reader.line()) + ": ";
    for (std::size_t i = 0; i < reader.cells().size(); ++i)
      out += (i > 0 ? "|" : "") + std::string(reader.cells()[i]);
  }
  return out;
}

// RFC 4180, section 2: the example of each of its rules 1, 2, 3, 5, 6 and 7.
TEST(LoadCsv, ExamplesOfRfc4180) {
  EXPECT_EQ(records("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"), "1: aaa|bbb|ccc\n2: zzz|yyy|xxx");
  EXPECT_EQ(records("aaa,bbb,ccc\r\nzzz,yyy,xxx"), "1: aaa|bbb|ccc\n2: zzz|yyy|xxx");
  EXPECT_EQ(records("field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n"),
            "1: field_name|field_name|field_name\n2: aaa|bbb|ccc\n3: zzz|yyy|xxx");
  EXPECT_EQ(records("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"), "1: aaa|bbb|ccc\n2: zzz|yyy|xxx");
  EXPECT_EQ(records("\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"), "1: aaa|b\r\nbb|ccc\n3: zzz|yyy|xxx");
  EXPECT_EQ(records("\"aaa\",\"b\"\"bb\",\"ccc\""), "1: aaa|b\"bb|ccc");
}

TEST(LoadCsv, RecordsEndAtLineFeeds) {
  EXPECT_EQ(records("from,to\nX1:1,K1:A1\n"), "1: from|to\n2: X1:1|K1:A1");
}

TEST(LoadCsv, RecordsEndAtCarriageReturnLineFeed) { EXPECT_EQ(records("a,b\r\nc,d\r\n"), "1: a|b\n2: c|d"); }

TEST(LoadCsv, RecordsEndAtLoneCarriageReturns) { EXPECT_EQ(records("a,b\rc,d\r"), "1: a|b\n2: c|d"); }

TEST(LoadCsv, LastLineNeedsNoLineEnd) { EXPECT_EQ(records("a,b\nc,d"), "1: a|b\n2: c|d"); }

TEST(LoadCsv, EmptyTextHasNoRecords) { EXPECT_EQ(records(""), ""); }

TEST(LoadCsv, BlankRowsAreSkippedAndCounted) {
  EXPECT_EQ(records("\n\na,b\n  \t\n\r\n,\nc,d\n\n"), "3: a|b\n7: c|d");
}

TEST(LoadCsv, EmptyCellsStand) { EXPECT_EQ(records("a,,c\n,b,\n"), "1: a||c\n2: |b|"); }

TEST(LoadCsv, SemicolonsDelimit) { EXPECT_EQ(records("from;to\nX1:1;2,5\n"), "1: from|to\n2: X1:1|2,5"); }

TEST(LoadCsv, TabsDelimit) {
  EXPECT_EQ(records("from\tto\tnote\n\t X1:1\t\n"), "1: from|to|note\n2: |X1:1|");
}

TEST(LoadCsv, DelimiterIsTheCommonestInTheFirstLine) { EXPECT_EQ(records("a;b;c,d\n"), "1: a|b|c,d"); }

TEST(LoadCsv, DelimitersInQuotesAreNotCounted) { EXPECT_EQ(records("\"a,b,c\";d\n"), "1: a,b,c|d"); }

TEST(LoadCsv, DelimiterIsTakenFromTheFirstLineWithText) {
  EXPECT_EQ(records("\n;;;\nfrom;to\n"), "3: from|to");
}

TEST(LoadCsv, OneColumnNeedsNoDelimiter) { EXPECT_EQ(records("wire\n12\n"), "1: wire\n2: 12"); }

TEST(LoadCsv, CellsAreTrimmed) {
  EXPECT_EQ(records(" from\t, to \nX1:1 \xC2\xA0,\xC2\xA0 K1:A1\r\n"), "1: from|to\n2: X1:1|K1:A1");
}

TEST(LoadCsv, QuotedCellHoldsTheDelimiter) {
  EXPECT_EQ(records("a,b\n\"X1:1, spare\",c\n"), "1: a|b\n2: X1:1, spare|c");
}

TEST(LoadCsv, DoubledQuotesAreOneQuote) {
  EXPECT_EQ(records("a,b\n\"3/4\"\" hose\",\"\"\"\"\n"), "1: a|b\n2: 3/4\" hose|\"");
}

TEST(LoadCsv, QuotedEmptyCellIsEmpty) { EXPECT_EQ(records("a,b\n\"\",x\n"), "1: a|b\n2: |x"); }

TEST(LoadCsv, BlanksAroundAndInsideQuotesAreTrimmed) {
  EXPECT_EQ(records("a,b\n  \" X1:1 \" \t,x\n"), "1: a|b\n2: X1:1|x");
}

TEST(LoadCsv, QuoteInsideABareCellIsItself) {
  EXPECT_EQ(records("a,b\n3/4\" hose,x\n"), "1: a|b\n2: 3/4\" hose|x");
}

TEST(LoadCsv, LineBreakInQuotesBelongsToTheCell) {
  EXPECT_EQ(records("a,b\n\"burner\nand fan\",x\ny,z\n"), "1: a|b\n2: burner\nand fan|x\n4: y|z");
}

TEST(LoadCsv, EveryKindOfLineBreakInQuotesCountsOnce) {
  EXPECT_EQ(records("a\n\"1\r\n2\r3\n4\"\r\nb\n"), "1: a\n2: 1\r\n2\r3\n4\n6: b");
}

TEST(LoadCsv, QuotedLastCellNeedsNoLineEnd) { EXPECT_EQ(records("a,b\nc,\"d\""), "1: a|b\n2: c|d"); }

TEST(LoadCsv, QuoteThatIsNeverClosedIsToldWhereItOpens) {
  EXPECT_EQ(records("a,b\nc,d\ne,\"X1:1\nf,g\n"),
            "1: a|b\n2: c|d\nin:3: a quoted cell is not closed: found \"\"X1:1 f,g \", expected a closing \" "
            "before the "
            "end of the file");
}

TEST(LoadCsv, LoneQuoteAtTheEndIsNotClosed) {
  EXPECT_EQ(records("a\n\""),
            "1: a\nin:2: a quoted cell is not closed: found \"\"\", expected a closing \" before the end of "
            "the file");
}

TEST(LoadCsv, TextAfterAClosingQuoteIsToldAndTheNextLineRead) {
  EXPECT_EQ(records("a,b\n\"X1\":1,c\nd,e\n"),
            "1: a|b\nin:2: text follows the closing quote of a cell: found \":1\", expected \",\" or the end "
            "of the line; "
            "a quote inside a quoted cell is written twice\n3: d|e");
}

TEST(LoadCsv, TextAfterAQuoteOfSeveralLinesIsToldWhereItStands) {
  EXPECT_EQ(records("a\tb\n\"X\n1\" y\tc\nd\te\n"),
            "1: a|b\nin:3: text follows the closing quote of a cell: found \"y\", expected a tab or the end "
            "of the line; "
            "a quote inside a quoted cell is written twice\n4: d|e");
}

TEST(LoadCsv, ShortRowsAreFilledUp) { EXPECT_EQ(records("a,b,c\nd\n", 3), "1: a|b|c\n2: d||"); }

TEST(LoadCsv, TextBeyondTheHeaderIsAMistake) {
  EXPECT_EQ(records("a,b\nc,d,burner,fan\ne,f\n", 2),
            "1: a|b\nin:2: the row has 4 cells, the header 2: found \"burner\", expected quotes around a "
            "cell that holds "
            "\",\"\n3: e|f");
}

TEST(LoadCsv, EmptyCellsBeyondTheHeaderAreNone) { EXPECT_EQ(records("a;b\nc;d;; ;\n", 2), "1: a|b\n2: c|d"); }

TEST(LoadCsv, NonBreakingBlankCutInHalfByTheEndIsNoBlank) {
  // Never reached through a file, whose text is checked first; the reader must not run past the end all the
  // same.
  EXPECT_EQ(records("a,\xC2"), "1: a|\xC2");
}

TEST(LoadCsv, CutAtEveryLengthNeverMakesUpRecords) {
  const std::string text = "wire,from,to\r\n1,\"X1:\"\"1\"\"\",K1:A1\r\n2,\"a\nb\", c \xC2\xA0\n\n3,,\"x\"";
  const std::string whole = records(text);
  for (std::size_t length = 0; length <= text.size(); ++length) {
    const std::string part = records(text.substr(0, length));
    const std::string all_but_last = part.substr(0, part.rfind('\n') + 1);
    EXPECT_LE(std::count(part.begin(), part.end(), '|'), std::count(whole.begin(), whole.end(), '|'))
        << length;
    if (part.find("in:") == part.npos) {
      EXPECT_EQ(whole.substr(0, all_but_last.size()), all_but_last) << length;
    }
  }
}

// Random tables, read by Python's csv module as well: an independent reader of the same form.
class RandomTable {
 public:
  explicit RandomTable(unsigned seed) : random_(seed) {}

  std::string text() {
    delimiter_ = pick(",;\t");
    std::string table = std::string("wire") + delimiter_ + "from" + delimiter_ + "to" + line_end();
    for (int rows = number(8); rows > 0; --rows) table += row();
    if (number(3) == 0) table += cell();
    return table;
  }

 private:
  int number(int below) { return static_cast<int>(random_() % static_cast<unsigned>(below)); }
  char pick(std::string_view from) {
    return from[static_cast<std::size_t>(number(static_cast<int>(from.size())))];
  }

  std::string line_end() {
    constexpr std::string_view k_ends[] = {"\n", "\r\n", "\r"};
    return std::string(k_ends[number(3)]);
  }
  std::string row() {
    std::string text = cell();
    for (int more = number(4); more > 0; --more) text += delimiter_ + cell();
    return text + line_end();
  }
  std::string cell() { return number(2) == 0 ? bare() : quoted(); }
  std::string bare() {
    // Begins with a letter, because Python takes a quote behind blanks for text; the blanks follow.
    std::string text = number(4) == 0 ? "" : std::string(1, pick("XK"));
    if (text.empty()) return text;
    for (int more = number(6); more > 0; --more)
      text += number(8) == 0 ? "\xC2\xA0" : std::string(1, pick("15:.\"/ "));
    return text;
  }
  std::string quoted() {
    std::string text = "\"";
    for (int more = number(7); more > 0; --more) text += inside();
    return text + "\"";
  }
  std::string inside() {
    constexpr std::string_view k_pieces[] = {"\"\"", "\n", "\r\n",     "\r", ",", ";",
                                             "\t",   " ",  "\xC2\xA0", "X1", "5", "\xC3\xBC"};
    return std::string(k_pieces[number(12)]);
  }

  std::mt19937 random_;
  char delimiter_ = ',';
};

constexpr const char* k_python_reader = R"(
import csv, sys
for path in sys.argv[1:]:
    with open(path, newline='', encoding='utf-8') as file:
        head = file.read()
    delimiter = next(c for c in head if c in ',;\t')
    with open(path, newline='', encoding='utf-8') as file:
        reader, line = csv.reader(file, delimiter=delimiter), 1
        for row in reader:
            cells = [cell.strip(' \t\u00a0') for cell in row]
            if any(cells):
                print(line, *(cell.encode().hex() or '-' for cell in cells))
            line = reader.line_num + 1
    print('end')
)";

std::string in_hex(std::string_view cell) {
  constexpr std::string_view k_digits = "0123456789abcdef";
  std::string text;
  for (const char c : cell) {
    text += k_digits[static_cast<unsigned char>(c) >> 4];
    text += k_digits[static_cast<unsigned char>(c) & 15];
  }
  return text.empty() ? "-" : text;
}

std::string records_in_hex(std::string_view text) {
  const load::FileText file = file_text(text);
  CsvReader reader(file);
  std::string out;
  while (reader.next() == CsvReader::Found::record) {
    out += std::to_string(reader.line());
    for (const std::string_view cell : reader.cells()) out += " " + in_hex(cell);
    out += '\n';
  }
  return out + "end\n";
}

unsigned test_seed() {
  const char* const set = std::getenv("RINGTRUE_TEST_SEED");
  return set != nullptr ? static_cast<unsigned>(std::strtoul(set, nullptr, 10)) : 1u;
}

TEST(LoadCsv, RandomTablesReadAsPythonReadsThem) {
  constexpr unsigned k_tables = 300;
  const ScopedTempFolder folder;
  const std::string script = folder.write("reader.py", k_python_reader).string();
  std::string command = "/usr/bin/python3 " + script;
  std::vector<std::string> tables;
  for (unsigned i = 0; i < k_tables; ++i) {
    tables.push_back(RandomTable(test_seed() * 1000003u + i).text());
    command += " " + folder.write(std::to_string(i) + ".csv", tables.back()).string();
  }
  const std::filesystem::path output = folder.path() / "output";
  ASSERT_EQ(std::system((command + " > " + output.string()).c_str()), 0);
  std::ifstream expected(output);
  for (unsigned i = 0; i < k_tables; ++i) {
    std::string block;
    for (std::string line; block.find("end\n") == block.npos && std::getline(expected, line);)
      block += line + "\n";
    ASSERT_EQ(records_in_hex(tables[i]), block)
        << "RINGTRUE_TEST_SEED=" << test_seed() << ", table " << i << ":\n"
        << tables[i];
  }
}

}  // namespace
}  // namespace ringtrue
