#include "load/csv_header.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "load/csv_rows.hpp"
#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

/// Takes what a table's reader has to say, in the order in which it says it.
struct Log {
  std::string text;
  std::size_t errors = 0;

  void add_error(const Error& error) {
    text += to_text(error) + "\n";
    ++errors;
  }
  void add_note(const Note& note) {
    if (note.is_detail) return;
    text += "note " + std::to_string(note.place.line) + ": " + note.text + "\n";
  }
  [[nodiscard]] bool has_enough_errors() const { return errors >= k_max_errors; }
};

/// Notes and mistakes, then `line: name|kind|volts|point` per row.
std::string potentials(std::string_view text) {
  const load::FileText file = file_text(text);
  Log log;
  load::read_csv_rows<PotentialRow>(file, log, [&](const PotentialRow& row, std::uint32_t line) {
    log.text += std::to_string(line) + ": " + std::string(row.name) + "|" + std::string(row.kind) + "|" +
                std::string(row.volts) + "|" + std::string(row.point) + "\n";
  });
  return log.text;
}

TEST(LoadCsvHeader, ColumnsMayStandInAnyOrder) {
  EXPECT_EQ(potentials("point,name,kind\nG1:+,+24V,dc+\nG1:-,0V,dc-\n"),
            "2: +24V|dc+||G1:+\n3: 0V|dc-||G1:-\n");
}

TEST(LoadCsvHeader, NamesMatchWithoutRegardToCaseAndBlanks) {
  EXPECT_EQ(potentials("Name; KIND\t;volts;\xC2\xA0Point\n+24V;dc+;24;G1:+\n"), "2: +24V|dc+|24|G1:+\n");
}

TEST(LoadCsvHeader, QuotedNamesMatch) {
  EXPECT_EQ(potentials("\"name\",\"kind\",\"point\"\nL1,ac-line,Q1:1\n"), "2: L1|ac-line||Q1:1\n");
}

TEST(LoadCsvHeader, ShortRowLeavesNothingOfTheRowBefore) {
  EXPECT_EQ(potentials("name,kind,point,volts\n+24V,dc+,G1:+,24\n0V,dc-,G1:-\n"),
            "2: +24V|dc+|24|G1:+\n3: 0V|dc-||G1:-\n");
}

TEST(LoadCsvHeader, TradeWordsAreTakenAndToldInOneNote) {
  EXPECT_EQ(potentials("Potenzial;ART;Origin;volts\nL1;ac-line;Q1:1;230\n"),
            "note 1: columns taken: \"Potenzial\" as name, \"ART\" as kind, \"Origin\" as point\n"
            "2: L1|ac-line|230|Q1:1\n");
}

TEST(LoadCsvHeader, TwoWordsForOneFieldAreAMistake) {
  EXPECT_EQ(potentials("Potenzial;Art;Type;Origin\nL1;ac-line;x;Q1:1\n"),
            "note 1: columns taken: \"Potenzial\" as name, \"Art\" as kind, \"Origin\" as point\n"
            "in:1: kind: two columns may be meant by it: found \"Type\", expected one column, or a mapping "
            "file that says "
            "which\n");
}

TEST(LoadCsvHeader, HeaderIsFoundBelowATitleAndAgainOnEachPage) {
  EXPECT_EQ(
      potentials(
          "Panel GD1;;;\n\nname;kind;point;volts\nL1;ac-line;Q1:1;230\nname;kind;point;volts\nPE;pe;X9:1;\n"),
      "note 1: text above the header in line 3 passed over\n4: L1|ac-line|230|Q1:1\n6: PE|pe||X9:1\n"
      "note 5: the header stands in the table again, 1 time; passed over\n");
}

TEST(LoadCsvHeader, UnknownColumnIsIgnoredWithANote) {
  EXPECT_EQ(potentials("name,kind,point,cabinet\nL1,ac-line,Q1:1,left\n"),
            "note 1: column \"cabinet\" ignored\n2: L1|ac-line||Q1:1\n");
}

TEST(LoadCsvHeader, MisspeltOptionalColumnNamesTheNearest) {
  EXPECT_EQ(potentials("name,kind,point,vols\nL1,ac-line,Q1:1,230\n"),
            "note 1: column \"vols\" ignored; nearest: volts\n2: L1|ac-line||Q1:1\n");
}

TEST(LoadCsvHeader, ColumnWithoutANameIsIgnoredWithANote) {
  EXPECT_EQ(
      potentials("name,kind,,point,\nL1,ac-line,x,Q1:1,\n"),
      "note 1: column 3 has no name, ignored\nnote 1: column 5 has no name, ignored\n2: L1|ac-line||Q1:1\n");
}

TEST(LoadCsvHeader, MissingColumnsAreAllTold) {
  EXPECT_EQ(potentials("name,pont,volts\nL1,Q1:1,230\n"),
            "note 1: column \"pont\" ignored; nearest: point\n"
            "in:1: kind: the column is missing: found \"name, pont, volts\", expected a header line with "
            "name, kind and "
            "point (and, where wanted, volts), in the words of the trade, English or German; for a netlist "
            "also by a mapping file (ringtrue "
            "convert --help); kind may be called type or art\n"
            "in:1: point: the column is missing: found \"name, pont, volts\", expected a header line with "
            "name, kind and "
            "point (and, where wanted, volts), in the words of the trade, English or German; for a netlist "
            "also by a mapping file (ringtrue "
            "convert --help); point may be called origin or ursprung; nearest: pont\n");
}

TEST(LoadCsvHeader, SameColumnManyTimesIsOneMistake) {
  std::string text = "name,point,kind";
  for (int i = 0; i < 100; ++i) text += ",kind";
  const std::string told = potentials(text + "\nL1\n");
  EXPECT_EQ(told.find("the column stands twice"), told.rfind("the column stands twice")) << told;
  EXPECT_NE(told.find("in:1: kind: the column stands twice"), std::string::npos) << told;
}

TEST(LoadCsvHeader, SameColumnTwiceIsAMistake) {
  EXPECT_EQ(potentials("name,kind,point,Kind\nL1,ac-line,Q1:1,pe\n"),
            "in:1: kind: the column stands twice in the header: expected each column once: give one of the "
            "two another name\n");
}

TEST(LoadCsvHeader, EmptyFileTellsWhatAHeaderHolds) {
  for (const std::string_view nothing : {"", "\n", " \r\n\r\n", ";;;\n", "\n,,\n"})
    EXPECT_EQ(potentials(nothing),
              "in: the file is empty: expected a header line with name, kind and point (and, where wanted, "
              "volts), in the words of the trade, English or German; for a netlist also by a mapping file "
              "(ringtrue convert --help)\n");
}

TEST(LoadCsvHeader, FileThatStartsWithARowHasNoHeader) {
  EXPECT_EQ(potentials("\n+24V,dc+,24,G1:+\n0V,dc-,24,G1:-\n"),
            "in:2: no header row was found: found \"+24V, dc+, 24, G1:+\", expected a header "
            "line with name, "
            "kind and point (and, where wanted, volts), in the words of the trade, English or German; for a "
            "netlist also by a mapping file "
            "(ringtrue convert --help)\n");
}

TEST(LoadCsvHeader, LineBelowATitleThatIsNearlyAHeaderIsToldWhatItLacks) {
  const std::string told = potentials("Potentials of GD1\n\nname,kind,terminal\nL1,ac-line,Q1:1\n");
  EXPECT_NE(told.find("in:3: point: the column is missing: found \"name, kind, terminal\""), told.npos)
      << told;
}

TEST(LoadCsvHeader, BrokenHeaderIsToldAndNoRowIsRead) {
  EXPECT_EQ(potentials("\"name\"x,kind,point\nL1,ac-line,Q1:1\n"),
            "in:1: text follows the closing quote of a cell: found \"x\", expected \",\" or the end of the "
            "line; a quote "
            "inside a quoted cell is written twice\n");
}

TEST(LoadCsvHeader, HeaderAloneHasNoRows) { EXPECT_EQ(potentials("name,kind,point"), ""); }

TEST(LoadCsvHeader, RowsAfterAMistakeAreRead) {
  EXPECT_EQ(potentials("name,kind,point\nL1,ac-line,Q1:1,left\nPE,pe,X9:1\n"),
            "in:2: the row has 4 cells, the header 3: found \"left\", expected quotes around a cell that "
            "holds \",\"\n"
            "3: PE|pe||X9:1\n");
}

TEST(LoadCsvHeader, ReadingEndsWhenThereAreEnoughMistakes) {
  std::string text = "name,kind,point\n";
  for (int i = 0; i < 80; ++i) text += "L1,ac-line,Q1:1,left\n";
  const std::string log = potentials(text);
  EXPECT_EQ(std::count(log.begin(), log.end(), '\n'), static_cast<std::ptrdiff_t>(k_max_errors));
}

}  // namespace
}  // namespace ringtrue
