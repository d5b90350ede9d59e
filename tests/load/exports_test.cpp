// Exports as they arrive, each a different mess made of one wire list (tests/exports), give the same netlist:
//
// | sample | what is odd in it |
// | --- | --- |
// | semicolons_decimal_commas.csv | `;` between cells, decimal commas, a first line `sep=;` |
// | utf16_tabs_german.csv | UTF-16 with a mark, tabs, German column words with units in brackets |
// | western_german.csv | Windows-1252, German words, a column that nobody needs |
// | title_rows.csv | mark of UTF-8, title rows and blank rows above the header, English words |
// | header_on_every_page.csv | the header repeated every 8 rows, blank rows |
// | both_directions.csv | each wire listed from both of its ends |
// | quoted_and_padded.csv | all cells quoted, line breaks in the header, non-breaking and trailing blanks |
// | device_and_pin_columns.csv | device and pin in columns of their own, by words of the trade |
// | device_and_pin | the same under other words (mapping: joined) |
// | merged_cells | merged cells, of which only the first row has the text (mapping: filled down) |
// | bridges_as_chains | three files, bridges as lists of points without a kind (mapping: chain, constant) |
// | their_words | colours and kinds in other words (mapping: values) |
// | foreign_xml | XML of another form in ISO-8859-1, ends as elements (mapping: XPath) |
// | unknown_language | words that nothing knows, header in line 3, CR alone ends a line (mapping: columns) |
#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include "load/load_support.hpp"
#include "support/netlist_lines.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
namespace fs = std::filesystem;

const fs::path k_exports = RINGTRUE_EXPORTS;

/// What the netlist says, whatever the order of the rows was and the decimal sign is.
std::vector<std::string> said(const Netlist& netlist) {
  std::istringstream text(testing::netlist_lines(netlist));
  std::vector<std::string> lines;
  for (std::string line; std::getline(text, line);) {
    std::replace(line.begin(), line.end(), ',', '.');
    lines.push_back(line);
  }
  std::sort(lines.begin(), lines.end());
  return lines;
}

class Exports : public ::testing::TestWithParam<const char*> {
 protected:
  ScopedTempFolder folder_;
};

TEST_P(Exports, GiveTheNetlistOfTheCleanOne) {
  const auto clean = load_netlist(k_exports / "clean.csv");
  const auto loaded = load_netlist(k_exports / GetParam());
  ASSERT_TRUE(clean);
  ASSERT_TRUE(loaded) << errors_of(loaded, folder_);
  ASSERT_EQ(clean->conductors.size(), 19u);
  EXPECT_EQ(said(*loaded), said(*clean));
}

INSTANTIATE_TEST_SUITE_P(All, Exports,
                         ::testing::Values("semicolons_decimal_commas.csv", "utf16_tabs_german.csv",
                                           "western_german.csv", "title_rows.csv", "header_on_every_page.csv",
                                           "both_directions.csv", "quoted_and_padded.csv",
                                           "device_and_pin_columns.csv", "device_and_pin/drawing.toml",
                                           "merged_cells/drawing.toml", "bridges_as_chains/drawing.toml",
                                           "their_words/drawing.toml", "foreign_xml/drawing.toml",
                                           "unknown_language/drawing.toml"));

// What is no netlist is told what was looked for, and how to go on.
TEST(NotANetlist, IsToldWhatWasLookedForAndHowToWriteAMapping) {
  const ScopedTempFolder folder;
  const auto told = [&](const std::string& name, std::string_view bytes) {
    return errors_of(load_netlist(folder.write(name, bytes)), folder);
  };
  const std::string no_text = "the file holds control characters, so it is no text file: found";
  EXPECT_NE(told("a.csv", std::string_view("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n1 0 obj\n\x01", 24)).find(no_text),
            std::string::npos);
  EXPECT_NE(told("a.csv", std::string_view("\x89PNG\r\n\x1A\n\0\0\0\rIHDR", 16)).find(no_text),
            std::string::npos);
  EXPECT_NE(told("a.csv", std::string_view("PK\x03\x04\x14\0\x06\0", 8)).find(no_text), std::string::npos);
  const std::string unknown = told("a.csv", "johdin;mist\xC3\xA4;minne\n1;K1:A1;X1:2.int\n");
  EXPECT_NE(unknown.find("no header row was found"), std::string::npos) << unknown;
  EXPECT_NE(unknown.find("a header line with from and to"), std::string::npos) << unknown;
  EXPECT_NE(unknown.find("by a mapping file (ringtrue convert --help)"), std::string::npos) << unknown;
}

class LoadMapped : public ::testing::Test {
 protected:
  Result<Netlist> load(std::string_view mapping, std::string_view table = "a,b,c\n1,K1:A1,X1:2.int\n") {
    folder_.write("t.csv", table);
    return load_netlist(folder_.write("m.toml", mapping));
  }
  std::string errors(std::string_view mapping, std::string_view table = "a,b,c\n1,K1:A1,X1:2.int\n") {
    return errors_of(load(mapping, table), folder_);
  }
  ScopedTempFolder folder_;
};

TEST_F(LoadMapped, ChainOfPointsIsAConductorFromEachToTheNext) {
  const auto netlist = load(
      "[[conductors]]\nfile = \"t.csv\"\nchain = \"/\"\n[conductors.columns]\nfrom = \"b\"\nto = \"c\"\nkind "
      "= {value = "
      "\"bridge\"}\n",
      "b,c\nX1:1.int,X1:2.int / X1:3.int/X1:4.int\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  ASSERT_EQ(netlist->conductors.size(), 3u);
  EXPECT_EQ(netlist->points.name(netlist->conductors[2].from), "X1:3.int");
  EXPECT_EQ(netlist->points.name(netlist->conductors[2].to), "X1:4.int");
}

TEST_F(LoadMapped, BridgesInAColumnOfATerminalListJoinNeighbourAfterNeighbour) {
  const auto bridged = load("[[bridges]]\nfile = \"t.csv\"\n",
                            "Klemmleiste;Klemme;Br\xC3\xBC"
                            "cke;Blatt\nX1;1;1-3,7;3.2\nX1;2;;3.2\nX2;4;4+6+12a;3.4\n");
  ASSERT_TRUE(bridged) << errors_of(bridged, folder_);
  std::string said;
  for (const Conductor& bridge : bridged->conductors)
    said += bridged->points.name(bridge.from) + " " + bridged->points.name(bridge.to) + "\n";
  EXPECT_EQ(
      said,
      "X1:1.int X1:2.int\nX1:2.int X1:3.int\nX1:3.int X1:7.int\nX2:4.int X2:6.int\nX2:6.int X2:12a.int\n");
  EXPECT_EQ(bridged->conductors[0].kind, ConductorKind::bridge);
  EXPECT_EQ(errors("[[bridges]]\nfile = \"t.csv\"\n", "strip,terminals\nX1,05. Jan\n"),
            "t.csv:2: terminals: not a list of bridged terminals: found \"05. Jan\", expected terminals such "
            "as 1-5 or "
            "1,3,5");
}

TEST_F(LoadMapped, FieldsThatAreNotNamedAreFoundByTheirNames) {
  const auto netlist = load("[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nto = \"c\"\n",
                            "Draht-Nr.,Von,c\n7,K1:A1,X1:2.int\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->conductor_text.get(ConductorText::wire, 0), "7");
}

TEST_F(LoadMapped, ColumnThatTheExportLacksIsNamed) {
  EXPECT_EQ(
      errors("[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nfrom = \"b\"\nto = \"Ziel\"\n"),
      "t.csv:1: Ziel: the column is missing: found \"a, b, c\", expected a header line with b and Ziel (and, "
      "where wanted, wire, kind, id, colour, mm2, awg, length_m, cable, core, sheet, potential, role and "
      "note), in the words of the trade, English or German; for a netlist also by a mapping file (ringtrue "
      "convert --help)");
}

TEST_F(LoadMapped, ColumnToFillDownThatTheExportLacksIsNamed) {
  EXPECT_EQ(
      errors(
          "[[conductors]]\nfile = \"t.csv\"\nfill_down = [\"sheet\"]\n[conductors.columns]\nfrom = \"b\"\nto "
          "= \"c\"\n"),
      "m.toml:1: fill_down: the column to fill down is missing: found \"sheet\", expected a column of t.csv");
}

TEST_F(LoadMapped, WhatIsWrongInTheMappingIsToldWithItsLine) {
  EXPECT_EQ(errors("[[conductors]]\nfile = \"t.csv\"\ncolums = {}\n"),
            "m.toml:3: conductors.colums: not a key of a table: found \"colums\", expected file, header, "
            "fill_down, "
            "chain, rows or columns; nearest: columns");
  EXPECT_EQ(errors("[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nform = \"b\"\n"),
            "m.toml:4: conductors.columns: no field of conductors: found \"form\"; nearest: from");
  EXPECT_EQ(errors("[[conductors]]\n[conductors.columns]\nfrom = \"b\"\n"),
            "m.toml:1: conductors.file: the table has no file: expected file = \"NAME\"");
  EXPECT_EQ(errors("[[conductors]]\nfile = \"t.csv\"\nheader = 0\n"),
            "m.toml:3: conductors.header: not the number of a line: expected a whole number from 1");
  EXPECT_EQ(first_code(load("[[conductors]\n")), ErrorCode::bad_mapping);
  EXPECT_EQ(first_code(load("")), ErrorCode::bad_mapping);
}

TEST_F(LoadMapped, ValuesOfAnotherKindAreToldWithTheirLine) {
  const std::string table = "[[conductors]]\nfile = \"t.csv\"\n", columns = table + "[conductors.columns]\n";
  const std::string not_a_text = ": not a text: expected text in quotes";
  EXPECT_EQ(errors("[[conductor]]\nfile = \"t.csv\"\n"),
            "m.toml:1: conductor: no table of a netlist: found \"conductor\", expected panel, conductors, "
            "parts, channels, potentials or bridges; nearest: conductors");
  EXPECT_EQ(errors("parts = \"t.csv\"\n"), "m.toml:1: parts: not a table: expected [[parts]] with a file");
  EXPECT_EQ(errors("parts = [\"t.csv\"]\n"), "m.toml:1: parts: not a table: expected [[parts]] with a file");
  EXPECT_EQ(errors("panel = \"GD1\"\n" + table),
            "m.toml:1: panel: not a table: expected [panel] with key = \"value\"");
  EXPECT_EQ(errors("[panel]\nrevision = 3\n" + table), "m.toml:2: panel.revision" + not_a_text);
  EXPECT_EQ(errors("[[conductors]]\nfile = 5\n"), "m.toml:2: conductors.file" + not_a_text);
  EXPECT_EQ(errors("[[conductors]]\nfile = \"\"\n"),
            "m.toml:1: conductors.file: the table has no file: expected file = \"NAME\"");
  EXPECT_EQ(errors(table + "fill_down = [\"b\", 2]\n"), "m.toml:3: conductors.fill_down" + not_a_text);
  for (const char* header : {"true", "\"2\"", "-1", "1.0", "4294967296"})
    EXPECT_EQ(errors(table + "header = " + header + "\n"),
              "m.toml:3: conductors.header: not the number of a line: expected a whole number from 1")
        << header;
  EXPECT_EQ(errors(table + "columns = \"b\"\n"),
            "m.toml:3: conductors.columns: not a table: expected field = \"COLUMN\"");
  EXPECT_EQ(errors(columns + "from = 2\n"), "m.toml:4: conductors.columns.from" + not_a_text);
  EXPECT_EQ(
      errors(columns + "from = { colum = \"b\" }\n"),
      "m.toml:4: conductors.columns.from.colum: not a key of a field: found \"colum\", expected column, "
      "join, with, value or values");
  EXPECT_EQ(errors(columns + "kind = { column = \"c\", values = \"Draht\" }\n"),
            "m.toml:4: conductors.columns.kind.values: not a table: expected { \"THEIR WORD\" = \"ours\" }");
}

// Only conductors are made of chains.
TEST_F(LoadMapped, KeyOfAnotherTableIsTold) {
  EXPECT_EQ(errors("[[parts]]\nfile = \"t.csv\"\nchain = \"/\"\n"),
            "m.toml:3: parts.chain: not a key of a table: found \"chain\", expected file, header, fill_down, "
            "rows or columns");
}

TEST_F(LoadMapped, AFieldHasItsTextFromOnePlace) {
  for (const char* field : {"{}", "{ with = \":\" }", "{ column = \"b\", value = \"K1:A1\" }",
                            "{ column = \"b\", join = [\"a\", \"b\"] }"})
    EXPECT_EQ(
        errors("[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nfrom = " + std::string(field) + "\n"),
        "m.toml:4: conductors.columns.from: the field has no text to come from, or two: expected one of "
        "column, join and value")
        << field;
}

TEST_F(LoadMapped, FileOfATableThatIsMissingIsTold) {
  EXPECT_EQ(errors("[[conductors]]\nfile = \"tt.csv\"\n"), "tt.csv: there is no such file; nearest: t.csv");
}

TEST_F(LoadMapped, FactsOfThePanelAreTaken) {
  const std::string points = "b,c\nK1:A1,X1:2.int\n";
  const std::string table =
      "[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nfrom = \"b\"\nto = "
      "\"c\"\n";
  const auto netlist = load(
      "[panel]\npanel = \"GD1\"\nrevision = \"C\"\ndrawing = \"E-100\"\nfunction = "
      "\"=GD1\"\nlocation = \"+A\"\nsafety = \"marked\"\n\"revison\" = \"D\"\n" +
          table,
      points);
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->panel.name, "GD1");
  EXPECT_EQ(netlist->panel.revision, "C");
  EXPECT_EQ(netlist->panel.drawing, "E-100");
  EXPECT_EQ(netlist->panel.designation.function, "GD1");
  EXPECT_EQ(netlist->panel.designation.location, "A");
  EXPECT_EQ(netlist->panel.safety, Safety::marked);
  EXPECT_EQ(notes_of(netlist->notes, folder_), "m.toml:8: key \"revison\" ignored; nearest: revision");
  EXPECT_EQ(errors("[panel]\npanel = \"GD1\"\nsafety = \"yes\"\n" + table, points),
            "m.toml:3: safety: unknown word: found \"yes\", expected " + listed_words<Safety>());
}

TEST_F(LoadMapped, EveryTableOfANetlistMayBeMapped) {
  folder_.write("parts.csv", "Geraet,Sorte,eins,zwei\nK1,Spule,A1,A2\n");
  folder_.write("io.csv", "Klemme,Sorte,Feld\nA1:0,DI,X1:2.ext\n");
  folder_.write("volts.csv", "Name,Sorte,Spannung,Ort\n+24V,plus,24,G1:+\n");
  const auto netlist = load(
      "[[conductors]]\nfile = \"t.csv\"\n[conductors.columns]\nfrom = \"b\"\nto = \"c\"\n"
      "[[parts]]\nfile = \"parts.csv\"\n[parts.columns]\npart = \"Geraet\"\na = \"eins\"\nb = \"zwei\"\n"
      "kind = { column = \"Sorte\", values = { Spule = \"coil\" } }\n"
      "[[channels]]\nfile = \"io.csv\"\n[channels.columns]\npoint = \"Klemme\"\ntype = \"Sorte\"\n"
      "field = \"Feld\"\n"
      "[[potentials]]\nfile = \"volts.csv\"\n[potentials.columns]\nname = \"Name\"\nvolts = \"Spannung\"\n"
      "point = \"Ort\"\nkind = { column = \"Sorte\", values = { plus = \"dc+\" } }\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  const PointTable& points = netlist->points;
  ASSERT_EQ(netlist->parts.size(), 1u);
  EXPECT_EQ(netlist->parts[0].kind, PartKind::coil);
  EXPECT_EQ(points.name(netlist->parts[0].a) + " " + points.name(netlist->parts[0].b), "K1:A1 K1:A2");
  EXPECT_EQ(netlist->parts[0].source.line, 2u);
  ASSERT_EQ(netlist->channels.size(), 1u);
  EXPECT_EQ(netlist->channels[0].type, ChannelType::DI);
  EXPECT_EQ(points.name(netlist->channels[0].field), "X1:2.ext");
  ASSERT_EQ(netlist->potentials.size(), 1u);
  EXPECT_EQ(netlist->potentials[0].kind, PotentialKind::dc_plus);
  EXPECT_EQ(netlist->potentials[0].volts, 24);
  EXPECT_EQ(points.name(netlist->potentials[0].point), "G1:+");
}

TEST_F(LoadMapped, BrokenXmlIsToldAsInANetlist) {
  const auto told = [&](std::string_view xml) {
    folder_.write("t.xml", xml);
    return errors("[[conductors]]\nfile = \"t.xml\"\nrows = \"//b\"\n");
  };
  EXPECT_EQ(told("<a>\n<b from='K1:A1'to='K1:A2'/>\n</a>"),
            "t.xml:2: an attribute is broken: expected name=\"value\", apart from the next by a blank");
  EXPECT_EQ(
      told("<a>\n<b from='K1:A1' to='&relay;'/>\n</a>"),
      "t.xml:2: a \"&\" starts no character that is known here: found \"&relay;\", expected &amp; for a "
      "plain &");
  EXPECT_EQ(told("<wiring>\n<b from='K1:A1' to='K1:A2'/>\n"),
            "t.xml:2: the file ends before every element is closed; it seems to be cut short: expected "
            "</wiring>");
  EXPECT_EQ(told("<!-- sheet 1 -->"),
            "t.xml:1: the file holds no XML element: expected one element around everything");
}

TEST_F(LoadMapped, XPathThatIsNoneOrFindsNothingIsTold) {
  folder_.write("t.xml", "<a><b from='K1:A1' to='K1:A2'/></a>");
  EXPECT_EQ(first_code(load("[[conductors]]\nfile = \"t.xml\"\nrows = \"//[\"\n")), ErrorCode::bad_mapping);
  EXPECT_EQ(errors("[[conductors]]\nfile = \"t.xml\"\nrows = \"//c\"\n"),
            "m.toml:1: rows: no element is a row of the table: found \"//c\", expected an XPath that finds "
            "elements in "
            "t.xml");
}

}  // namespace
}  // namespace ringtrue
