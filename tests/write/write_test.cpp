#include "ringtrue/write/write.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>

#include "load/load_support.hpp"
#include "support/netlist_lines.hpp"
#include "support/netlist_text.hpp"
#include "support/random_netlist.hpp"
#include "support/random_panels.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using testing::netlist_lines;
namespace fs = std::filesystem;

class Write : public ::testing::Test {
 protected:
  Netlist load(const fs::path& path) {
    Result<Netlist> loaded = load_netlist(path);
    if (!loaded) throw std::runtime_error(errors_of(loaded, folder_));
    return std::move(*loaded);
  }

  /// Writes and loads again.
  Netlist again(const Netlist& netlist, const std::string& name) {
    const auto written = write_netlist(netlist, at(name), Existing::replace);
    if (!written) throw std::runtime_error(errors_of(written, folder_));
    return load(at(name));
  }

  /// In both forms, and from each to the other.
  void expect_same_again(const Netlist& netlist) {
    const std::string lines = netlist_lines(netlist);
    const Netlist from_xml = again(netlist, "a.xml");
    EXPECT_EQ(netlist_lines(from_xml), lines);
    EXPECT_EQ(netlist_lines(again(from_xml, "a")), lines);
    const Netlist from_csv = again(netlist, "b");
    EXPECT_EQ(netlist_lines(from_csv), lines);
    EXPECT_EQ(netlist_lines(again(from_csv, "b.xml")), lines);
  }

  Netlist of_files(std::string_view conductors, std::string_view parts = "", std::string_view panel = "") {
    folder_.write("in/conductors.csv", conductors);
    if (!parts.empty()) folder_.write("in/parts.csv", parts);
    if (!panel.empty()) folder_.write("in/panel.csv", panel);
    return load(at("in"));
  }

  [[nodiscard]] fs::path at(const std::string& name) const { return folder_.path() / name; }

  [[nodiscard]] std::string bytes_of(const std::string& name) const {
    std::ifstream file(at(name), std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
  }

  /// Names in the test's folder, those of temporary folders included.
  [[nodiscard]] std::string names() const {
    std::vector<std::string> all;
    for (const auto& entry : fs::directory_iterator(folder_.path()))
      all.push_back(entry.path().filename().string());
    std::sort(all.begin(), all.end());
    std::string text;
    for (const std::string& name : all) text += (text.empty() ? "" : " ") + name;
    return text;
  }

  std::string refusal(const Netlist& netlist, const std::string& name, Existing existing = Existing::refuse) {
    return errors_of(write_netlist(netlist, at(name), existing), folder_);
  }

  ScopedTempFolder folder_;
};

TEST_F(Write, TheDemosComeBackTheSame) {
  for (const char* name : {"/grain-dryer", "/grain-dryer/netlist.xml", "/quickstart"})
    expect_same_again(load(RINGTRUE_NETLISTS + std::string(name)));
}

TEST_F(Write, RandomNetlistsComeBackTheSame) {
  for (unsigned seed = 0; seed < 200; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(testing::test_seed() + seed));
    const unsigned random = testing::test_seed() + seed;
    expect_same_again(testing::netlist(seed % 2 == 0 ? testing::random_netlist(random)
                                                     : testing::random_small_panel(random)));
    if (HasFailure()) return;
  }
}

TEST_F(Write, AwkwardTextComesBackTheSame) {
  expect_same_again(
      of_files("wire,from,to,note,sheet,colour\n"
               "\"1,5\",K1:A1,X1:5.int,\"says \"\"stop\"\"\",=1+1,\"a;b\"\n"
               "+2,K1:A1,X1:6.ext,\"line one\nline two\r\nthree\rfour\",@x,-\n"
               "3,K1:A2,X1:7,\"\nbreak at both ends\n\",<b>&amp;'</b>,\"\"\"\"\n"
               "\xC3\xA9\xE6\x97\xA5\xF0\x9F\x94\x94,K1:A2,X1:8,a\tb   c,]]>,\"a\"\"\"\n"));
}

TEST_F(Write, NamesThatOpenWithASignComeBackTheSame) {
  expect_same_again(
      of_files("wire,from,to\n"
               "1,--K1:A1,=GD2-X1:5\n"
               "2,-=K3:1,+A=K4:1\n"
               "3,+B-X1:5.ext,=GD1+A-X1:5.int\n"
               "4,- K5:1,-\xC2\xA0K6:1\n"
               "5,X1:7.int.ext,K7:1\n",
               "part,kind,a,b,actuated_by\n"
               "--K1,coil,A1,A2,\n"
               "+A=K9,contact-no,13,1:4,--K1\n"
               "K2.int.ext,coil,A1.int,A2,\n",
               "key,value\nfunction,==GD1\nlocation,+A\n"));
}

TEST_F(Write, NumbersComeBackTheSame) {
  expect_same_again(of_files("wire,from,to,mm2,length_m,awg\n1,K1:A1,K2:A1,1.50,0.30,1/0\n",
                             "part,kind,a,b,ohms,tolerance_pct,volts,closed_in\n"
                             "K1,coil,A1,A2,\"0,1\",1e-7,1e300,\n"
                             "K2,coil,A1,A2,5e-324,0,0.30000000000000004,\n"
                             "S1,contact-no,1,2,,,,\"0;-2 3\"\n"));
}

TEST_F(Write, SizesAreWrittenAsTheyStoodAndInXmlAsTheSchemaHasThem) {
  const Netlist netlist = of_files("wire,from,to,mm2,length_m\n1,K1:A1,K2:A1,\"1,5\",1e3\n");
  EXPECT_EQ(netlist_lines(again(netlist, "out")), netlist_lines(netlist));
  EXPECT_EQ(bytes_of("out/conductors.csv"),
            "wire,from,to,kind,mm2,length_m\r\n1,K1:A1,K2:A1,wire,\"1,5\",1e3\r\n");
  const Netlist from_xml = again(netlist, "out.xml");
  EXPECT_EQ(from_xml.conductor_text.get(ConductorText::mm2, 0), "1.5");
  EXPECT_EQ(from_xml.conductor_text.get(ConductorText::length_m, 0), "1000");
}

TEST_F(Write, SpareCoresAndConductorsListedTwiceAreWrittenAsLoaded) {
  const Netlist netlist = of_files(
      "wire,from,to,kind,cable,core\n,,X1:1,core,W1,4\n,X1:2,-,core,W1,SH\n7,K1:A1,K2:A1,,,\n7,K2:A1,K1:A1,,,"
      "\n");
  EXPECT_EQ(netlist.conductors.size(), 3u);
  expect_same_again(netlist);
}

TEST_F(Write, OnlyWhatHoldsSomethingIsWritten) {
  again(testing::netlist("1 K1:A1 X1:5"), "out");
  EXPECT_EQ(bytes_of("out/conductors.csv"), "wire,from,to,kind\r\n1,K1:A1,X1:5.int,wire\r\n");
  EXPECT_FALSE(fs::exists(at("out/parts.csv")));
  EXPECT_FALSE(fs::exists(at("out/panel.csv")));
  again(testing::netlist("1 K1:A1 X1:5"), "out.xml");
  EXPECT_EQ(bytes_of("out.xml"),
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
            "<netlist xmlns=\"urn:ringtrue:netlist:1\">\n"
            "  <conductors>\n"
            "    <conductor wire=\"1\" from=\"K1:A1\" to=\"X1:5.int\" kind=\"wire\"/>\n"
            "  </conductors>\n"
            "</netlist>\n");
}

TEST_F(Write, ANetlistWithoutConductorsIsStillOne) {
  expect_same_again(testing::netlist("part K1 coil A1 A2"));
}

TEST_F(Write, WhatStandsThereStays) {
  const Netlist netlist = testing::netlist("1 K1:A1 X1:5");
  folder_.write("out.xml", "mine");
  folder_.write("out/note.txt", "mine");
  fs::create_symlink("nowhere", at("link.xml"));
  for (const std::string name : {"out.xml", "out", "link.xml"})
    EXPECT_EQ(refusal(netlist, name),
              name + ": it exists already: expected a name that is not taken yet, or --force to replace it");
  EXPECT_EQ(bytes_of("out.xml"), "mine");
  EXPECT_EQ(names(), "link.xml out out.xml");
}

TEST_F(Write, AFolderIsReplacedWhole) {
  const std::string old = netlist_lines(again(testing::netlist("part K1 coil A1 A2\n1 K1:A1 X1:5"), "out"));
  EXPECT_TRUE(fs::exists(at("out/parts.csv")));
  EXPECT_NE(netlist_lines(again(testing::netlist("1 K1:A1 X1:5"), "out")), old);
  EXPECT_FALSE(fs::exists(at("out/parts.csv")));
  EXPECT_EQ(names(), "out");
}

TEST_F(Write, AFolderWithReadingsIsNotReplaced) {
  folder_.write("out/conductors.csv", "from,to\nK1:A1,K2:A1\n");
  folder_.write("out/readings.csv", "mine");
  EXPECT_EQ(
      refusal(testing::netlist("1 K1:A1 X1:5"), "out/", Existing::replace),
      "out/: the folder holds more than a netlist, which would be lost: found \"readings.csv\", expected "
      "a folder of its own");
  EXPECT_EQ(bytes_of("out/readings.csv"), "mine");
  EXPECT_EQ(names(), "out");
}

TEST_F(Write, AFileAndAFolderDoNotReplaceEachOther) {
  const Netlist netlist = testing::netlist("1 K1:A1 X1:5");
  folder_.write("out", "mine");
  fs::create_directory(at("out.xml"));
  EXPECT_EQ(first_code(write_netlist(netlist, at("out"), Existing::replace)), ErrorCode::file_exists);
  EXPECT_EQ(first_code(write_netlist(netlist, at("out.xml"), Existing::replace)), ErrorCode::file_exists);
  EXPECT_EQ(names(), "out out.xml");
}

TEST_F(Write, ANameThatCannotBeWrittenIsTold) {
  EXPECT_EQ(refusal(testing::netlist("1 K1:A1 X1:5"), "no/such/out.xml"),
            "no/such/out.xml: it could not be written (No such file or directory): expected a name in a "
            "folder that is there and may be written to");
  EXPECT_EQ(names(), "");
}

TEST_F(Write, WhatXmlCannotHoldIsTold) {
  const Netlist netlist =
      of_files("wire,from,to,note\n1,K1:A1,K2:A1,\n2,K1:A1,K3:A1,bell\a\n3,K1:A1,K4:A1,\xEF\xBF\xBF\n");
  EXPECT_EQ(refusal(netlist, "out.xml"),
            "in/conductors.csv:3: note: the text holds a character that XML cannot hold: found \"byte 07\", "
            "expected text without control characters, or a folder of CSV files to write to\n"
            "in/conductors.csv:4: note: the text holds a character that XML cannot hold: found \"byte EF\", "
            "expected text without control characters, or a folder of CSV files to write to");
  EXPECT_EQ(names(), "in");
  EXPECT_EQ(netlist_lines(again(netlist, "out")), netlist_lines(netlist));
}

}  // namespace
}  // namespace ringtrue
