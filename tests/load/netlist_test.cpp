#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "load/load_support.hpp"
#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

constexpr std::string_view k_panel =
    "key,value\npanel,GD1\nrevision,B\ndrawing,E-100\nfunction,GD1\nlocation,A\nsafety,marked\n";
constexpr std::string_view k_conductors =
    "wire,from,to,kind,id,colour,mm2,length_m,cable,core,sheet,potential,role,note\n"
    "1,G1:+,=GD1+A-X1:1.int,wire,,BU,1.5,0.8,,,1.1,+24V,,\n"
    ",X1:1.int,X1:2.int,bridge,b1,,,,,,1.2,+24V,,\"fan \"\"1\"\" <2> & 'auger', spare\"\n"
    "4,X1:2.ext,S0:11,wire,,BU,0.75,2.1,,,1.3,,stop,\"two\nlines\"\n"
    ",X1:3.ext,-,core,,GN,0.75,14,W1,3,1.4,,,\n"
    ",X1:3.int,A1:0.0,wire,w9,,,,,,,,,\n";
constexpr std::string_view k_parts =
    "part,kind,a,b,ohms,tolerance_pct,volts,actuated_by,closed_in,place,role,sheet,note\n"
    "G1,supply,+,-,,,24,,,,,1.1,\n"
    "X1:2,disconnect,,,,,,,,,,1.2,\n"
    "K1,coil,A1,A2,680,5,24,,,,protective,2.1,T\xC3\xBCr\n"
    "K1,contact-no,11,14,,,,,,,,2.2,\n"
    "S2,contact-no,13,14,,,,,\"0,2\",door,,2.3,\n"
    "B1,sensor,1,2,,,,,,field,,,\n";
constexpr std::string_view k_channels =
    "point,type,address,tag,text,field,return,common,device,feed,normal,sense,sensor,signal,low,high,unit,"
    "raw_low,raw_high,"
    "module,led,role\n"
    "A1:0.0,DI,%IX0.0,HOPPER_FULL,Hopper paddle: grain "
    "present,X1:3.ext,X1:1.ext,A1:M,B1,passive,0,sink,contact,,,,,,,A1,I0,\n"
    "A2:0,AI,%IW4,AIR_TEMP,Air temperature,X1:7.ext,X1:8.ext,A2:M,B7,active,,,,4-20mA,-50,150,\xC2\xB0"
    "C,0,27648,A2,,guard\n";
constexpr std::string_view k_potentials = "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n";

// The same netlist, written by hand.
constexpr std::string_view k_xml = R"(<?xml version="1.0" encoding="UTF-8"?>
<netlist panel="GD1" revision="B" drawing="E-100" function="GD1" location="A" safety="marked" xmlns="urn:ringtrue:netlist:1">
  <conductors>
    <conductor wire="1" from="G1:+" to="=GD1+A-X1:1.int" kind="wire" colour="BU" mm2="1.5" length_m="0.8" sheet="1.1" potential="+24V"/>
    <conductor from="X1:1.int" to="X1:2.int" kind="bridge" id="b1" sheet="1.2" potential="+24V" note="fan &quot;1&quot; &lt;2> &amp; 'auger', spare"/>
    <conductor wire="4" from="X1:2.ext" to="S0:11" colour="BU" mm2="0.75" length_m="2.1" sheet="1.3" role="stop" note="two&#10;lines"/>
    <conductor from="X1:3.ext" kind="core" colour="GN" mm2="0.75" length_m="14" cable="W1" core="3" sheet="1.4"/>
    <conductor from=" X1:3.int " to="A1:0.0" id="w9"/>
  </conductors>
  <parts>
    <part part="G1" kind="supply" a="+" b="-" volts="24" sheet="1.1"/>
    <part part="X1:2" kind="disconnect" sheet="1.2"/>
    <part part="K1" kind="coil" a="A1" b="A2" ohms="680" tolerance_pct="5" volts="24" role="protective" sheet="2.1" note="T&#252;r"/>
    <part part="K1" kind="contact-no" a="11" b="14" sheet="2.2"/>
    <part part="S2" kind="contact-no" a="13" b="14" closed_in="0,2" place="door" sheet="2.3"/>
    <part part="B1" kind="sensor" a="1" b="2" place="field"/>
  </parts>
  <channels>
    <channel point="A1:0.0" type="DI" address="%IX0.0" tag="HOPPER_FULL" text="Hopper paddle: grain present" field="X1:3.ext"
             return="X1:1.ext" common="A1:M" device="B1" feed="passive" normal="0" sense="sink" sensor="contact" module="A1" led="I0"/>
    <channel point="A2:0" type="AI" address="%IW4" tag="AIR_TEMP" text="Air temperature" field="X1:7.ext" return="X1:8.ext"
             common="A2:M" device="B7" feed="active" signal="4-20mA" low="-50" high="150" unit="&#xB0;C" raw_low="0"
             raw_high="27648" module="A2" role="guard"/>
  </channels>
  <potentials>
    <potential name="+24V" kind="dc+" volts="24" point="G1:+"/>
    <potential name="0V" kind="dc-" volts="0" point="G1:-"/>
  </potentials>
</netlist>
)";

std::string point_name(const Netlist& netlist, PointId point) {
  return point == PointId::none ? "-" : netlist.points.name(point);
}

std::string number(double value) { return std::isnan(value) ? "" : std::to_string(value); }

/// Every field of every record, but not where it was read.
std::vector<std::string> fields_of_all(const Netlist& netlist) {
  std::vector<std::string> out;
  const auto add = [&](std::initializer_list<std::string> texts) {
    std::string line;
    for (const std::string& text : texts) line += text + "|";
    out.push_back(line);
  };
  const PanelInfo& panel = netlist.panel;
  add({panel.name, panel.revision, panel.drawing, panel.designation.function, panel.designation.location,
       std::string(word(panel.safety))});
  for (std::size_t i = 0; i < netlist.conductors.size(); ++i) {
    const Conductor& c = netlist.conductors[i];
    add({point_name(netlist, c.from), point_name(netlist, c.to), std::string(word(c.kind)),
         std::string(word(c.role))});
    for (std::size_t field = 0; field < static_cast<std::size_t>(ConductorText::count_); ++field)
      out.back() += std::string(netlist.conductor_text.get(ConductorText(field), i)) + "|";
  }
  for (const Part& p : netlist.parts) {
    add({std::string(p.part), std::string(word(p.kind)), point_name(netlist, p.a), point_name(netlist, p.b),
         number(p.ohms), number(p.tolerance_pct), number(p.volts), std::string(p.actuated_by),
         std::string(word(p.place)), std::string(word(p.role)), p.strip_like ? "strip" : "",
         std::string(p.sheet), std::string(p.note)});
    for (const int position : p.closed_in) out.back() += std::to_string(position) + ",";
  }
  for (const Channel& c : netlist.channels)
    add({point_name(netlist, c.point),
         std::string(word(c.type)),
         std::string(c.address),
         std::string(c.tag),
         std::string(c.text),
         point_name(netlist, c.field),
         point_name(netlist, c.return_point),
         point_name(netlist, c.common),
         std::string(c.device),
         std::string(word(c.feed)),
         c.normal ? std::to_string(*c.normal) : "",
         std::string(word(c.sense)),
         std::string(word(c.sensor)),
         std::string(c.signal),
         number(c.low),
         number(c.high),
         std::string(c.unit),
         number(c.raw_low),
         number(c.raw_high),
         std::string(c.module),
         std::string(c.led),
         std::string(word(c.role))});
  for (const Potential& p : netlist.potentials)
    add({std::string(p.name), std::string(word(p.kind)), number(p.volts), point_name(netlist, p.point)});
  return out;
}

class LoadNetlist : public ::testing::Test {
 protected:
  void write_whole_folder() {
    folder_.write("GD1/panel.csv", k_panel);
    folder_.write("GD1/conductors.csv", k_conductors);
    folder_.write("GD1/parts.csv", k_parts);
    folder_.write("GD1/channels.csv", k_channels);
    folder_.write("GD1/potentials.csv", k_potentials);
  }
  Result<Netlist> load_folder() { return load_netlist(folder_.path() / "GD1"); }
  Result<Netlist> load_wire_list(std::string_view text) {
    return load_netlist(folder_.write("wires.csv", text));
  }

  ScopedTempFolder folder_;
};

TEST_F(LoadNetlist, FolderHoldsAllTables) {
  write_whole_folder();
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->panel.name, "GD1");
  EXPECT_EQ(netlist->panel.safety, Safety::marked);
  EXPECT_EQ(netlist->conductors.size(), 5u);
  EXPECT_EQ(netlist->parts.size(), 6u);
  EXPECT_EQ(netlist->channels.size(), 2u);
  EXPECT_EQ(netlist->potentials.size(), 2u);
  EXPECT_EQ(netlist->conductor_text.get(ConductorText::note, 1), "fan \"1\" <2> & 'auger', spare");
  EXPECT_TRUE(netlist->conductors[3].is_spare());
}

TEST_F(LoadNetlist, XmlAndFolderSayTheSame) {
  write_whole_folder();
  const auto from_csv = load_folder();
  const auto from_xml = load_netlist(folder_.write("gd1.xml", k_xml));
  ASSERT_TRUE(from_csv) << errors_of(from_csv, folder_);
  ASSERT_TRUE(from_xml) << errors_of(from_xml, folder_);
  EXPECT_EQ(fields_of_all(*from_csv), fields_of_all(*from_xml));
  EXPECT_EQ(fields_of_all(*from_csv).size(), 16u);
}

TEST_F(LoadNetlist, RowsKnowTheirFileAndLine) {
  write_whole_folder();
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  const auto place = [&](RowSource source) {
    return folder_.without_folder(netlist->files.at(source.file)) + ":" + std::to_string(source.line);
  };
  EXPECT_EQ(place(netlist->conductors[2].source), "GD1/conductors.csv:4");
  EXPECT_EQ(place(netlist->conductors[3].source), "GD1/conductors.csv:6");  // the row before has two lines
  EXPECT_EQ(place(netlist->parts[0].source), "GD1/parts.csv:2");
  EXPECT_EQ(place(netlist->channels[1].source), "GD1/channels.csv:3");
  EXPECT_EQ(place(netlist->potentials[1].source), "GD1/potentials.csv:3");
}

TEST_F(LoadNetlist, PanelIsReadBeforeTheNamesThatDependOnIt) {
  folder_.write("GD1/panel.csv", "key,value\nfunction,GD1\nlocation,A\n");
  folder_.write("GD1/conductors.csv", "from,to\n=GD1+A-K1:A1,A1:1.0\nK1:A1,+B-K1:A1\n");
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->conductors[0].from, netlist->conductors[1].from);
  EXPECT_NE(netlist->conductors[1].from, netlist->conductors[1].to);
}

TEST_F(LoadNetlist, FolderWithConductorsAloneIsEnough) {
  folder_.write("GD1/conductors.csv", "from,to\nK1:A1,A1:1.0\n");
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->files.size(), 1u);
}

TEST_F(LoadNetlist, WireListAloneIsEnough) {
  const auto netlist = load_wire_list("\xEF\xBB\xBFWire;From;To\r\n12;X1:5;K1:A1\r\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  ASSERT_EQ(netlist->conductors.size(), 1u);
  EXPECT_EQ(netlist->conductor_text.get(ConductorText::wire, 0), "12");
  EXPECT_EQ(netlist->points.name(netlist->conductors[0].from), "X1:5.int");
}

TEST_F(LoadNetlist, XmlEndingMatchesWithoutRegardToCase) {
  EXPECT_TRUE(load_netlist(folder_.write("GD1.XML", "<netlist xmlns=\"urn:ringtrue:netlist:1\"/>")));
}

TEST_F(LoadNetlist, FolderWithBothFormsIsReadAsCsv) {
  folder_.write("GD1/conductors.csv", "from,to\nK1:A1,A1:1.0\n");
  folder_.write("GD1/netlist.xml", "broken");
  EXPECT_TRUE(load_folder());
}

TEST_F(LoadNetlist, FolderWithOneXmlFileIsReadFromIt) {
  folder_.write("GD1/netlist.xml", k_xml);
  folder_.write("GD1/readings.csv", "from,to,value\n");
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->conductors.size(), 5u);
}

TEST_F(LoadNetlist, FolderWithSeveralXmlFilesAsksForOne) {
  folder_.write("GD1/b.xml", k_xml);
  folder_.write("GD1/a.xml", k_xml);
  EXPECT_EQ(errors_of(load_folder(), folder_),
            "GD1: the folder holds several XML files; name one of them: found \"a.xml, b.xml\", expected "
            "conductors.csv (and, "
            "where wanted, parts.csv, channels.csv, potentials.csv, panel.csv) or one .xml file");
}

TEST_F(LoadNetlist, FolderWithoutConductorsTellsWhatWasLookedFor) {
  folder_.write("GD1/Conductors.csv", k_conductors);
  folder_.write("GD1/parts.csv", k_parts);
  const auto netlist = load_folder();
  EXPECT_EQ(first_code(netlist), ErrorCode::file_unreadable);
  EXPECT_EQ(
      errors_of(netlist, folder_),
      "GD1: the folder holds no netlist: found \"Conductors.csv, parts.csv\", expected conductors.csv (and, "
      "where wanted, parts.csv, channels.csv, potentials.csv, panel.csv) or one .xml file; nearest: "
      "Conductors.csv");
}

TEST_F(LoadNetlist, MisspeltTableIsNoted) {
  folder_.write("GD1/conductors.csv", "from,to\nK1:A1,A1:1.0\n");
  folder_.write("GD1/chanels.csv", k_channels);
  folder_.write("GD1/readings.csv", "from,to,value\n");
  folder_.write("GD1/parts.csv", "part,kind,a,b\n");
  folder_.write("GD1/part.csv", "part,kind,a,b\n");
  const auto netlist = load_folder();
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(notes_of(netlist->notes, folder_), "GD1/chanels.csv:0: file not read; nearest: channels.csv");
}

TEST_F(LoadNetlist, MissingNetlistNamesTheNearest) {
  folder_.write("GD1/conductors.csv", k_conductors);
  EXPECT_EQ(errors_of(load_netlist(folder_.path() / "GD2"), folder_),
            "GD2: there is no such file; nearest: GD1");
}

TEST_F(LoadNetlist, MissingXmlIsAMissingFile) {
  EXPECT_EQ(errors_of(load_netlist(folder_.path() / "gd1.xml"), folder_), "gd1.xml: there is no such file");
}

TEST_F(LoadNetlist, FolderInPlaceOfATableIsTold) {
  folder_.write("GD1/conductors.csv", "from,to\nK1:A1,A1:1.0\n");
  folder_.write("GD1/parts.csv/x", "");
  EXPECT_EQ(errors_of(load_folder(), folder_), "GD1/parts.csv: this is a folder where a file is needed");
}

TEST_F(LoadNetlist, MistakesOfAllTablesAreTold) {
  folder_.write("GD1/panel.csv", "key,value\nsafety,maybe\n");
  folder_.write("GD1/conductors.csv", "wire,from,to\n3,K1:A1,\n");
  folder_.write("GD1/parts.csv", "part,kind,a,b\nK1,coyl,A1,A2\n");
  folder_.write("GD1/channels.csv", "");
  const auto netlist = load_folder();
  ASSERT_FALSE(netlist);
  ASSERT_EQ(netlist.error().size(), 4u) << errors_of(netlist, folder_);
  EXPECT_EQ(to_text(netlist.error()[0]).substr(folder_.path().string().size() + 1).substr(0, 22),
            "GD1/panel.csv:2: safet");
  EXPECT_EQ(netlist.error()[1].code, ErrorCode::conductor_without_end);
  EXPECT_EQ(netlist.error()[2].code, ErrorCode::unknown_kind);
  EXPECT_EQ(netlist.error()[3].code, ErrorCode::no_header);
}

TEST_F(LoadNetlist, FileAboveTheLimitIsRefused) {
  write_whole_folder();
  EXPECT_EQ(errors_of(load_netlist(folder_.path() / "GD1" / "conductors.csv", LoadLimits{100}), folder_),
            "GD1/conductors.csv: the file is too large: expected at most 100 bytes");
}

class LoadPanelFacts : public LoadNetlist {
 protected:
  Result<Netlist> load_with_panel(std::string_view text) {
    folder_.write("GD1/conductors.csv", "from,to\nK1:A1,A1:1.0\n");
    folder_.write("GD1/panel.csv", text);
    return load_folder();
  }
};

TEST_F(LoadPanelFacts, KeysMatchWithoutRegardToCase) {
  const auto netlist = load_with_panel("Key;Value\n Panel ;GD1\nREVISION;C\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(netlist->panel.name, "GD1");
  EXPECT_EQ(netlist->panel.revision, "C");
  EXPECT_EQ(netlist->panel.safety, Safety::not_stated);
}

TEST_F(LoadPanelFacts, UnknownKeyIsNotedWithTheNearest) {
  const auto netlist = load_with_panel("key,value\nsaftey,none\ncustomer,Mill\n");
  ASSERT_TRUE(netlist) << errors_of(netlist, folder_);
  EXPECT_EQ(
      notes_of(netlist->notes, folder_),
      "GD1/panel.csv:2: key \"saftey\" ignored; nearest: safety\nGD1/panel.csv:3: key \"customer\" ignored");
}

TEST_F(LoadPanelFacts, SameKeyTwiceIsAMistake) {
  EXPECT_EQ(errors_of(load_with_panel("key,value\npanel,GD1\npanel\nPanel,GD2\n"), folder_),
            "GD1/panel.csv:3: panel: the key stands twice: expected each key once\n"
            "GD1/panel.csv:4: Panel: the key stands twice: found \"GD2\", expected each key once");
}

TEST_F(LoadPanelFacts, WithoutHeaderNoFactIsTaken) {
  EXPECT_EQ(errors_of(load_with_panel("panel,GD1\n"), folder_),
            "GD1/panel.csv:1: no header row was found: found \"panel, GD1\", expected a header "
            "line with key "
            "and value");
}

TEST_F(LoadNetlist, CutAtEveryLengthIsAMistakeOrAShorterNetlist) {
  const auto whole = load_wire_list(k_conductors);
  ASSERT_TRUE(whole) << errors_of(whole, folder_);
  const std::vector<std::string> all = fields_of_all(*whole);
  for (std::size_t length = 0; length < k_conductors.size(); ++length) {
    const auto part = load_wire_list(k_conductors.substr(0, length));
    if (!part) {
      EXPECT_FALSE(part.error().front().message.empty()) << length;
      continue;
    }
    // All rows but the last, which may be cut, are those of the whole file. Numbers of points don't show in
    // them.
    const std::vector<std::string> some = fields_of_all(*part);
    ASSERT_LE(some.size(), all.size()) << length;
    for (std::size_t i = 0; i + 1 < some.size(); ++i) EXPECT_EQ(some[i], all[i]) << length;
  }
}

TEST_F(LoadNetlist, AnyByteChangedIsAMistakeOrANetlist) {
  const std::string text = "wire,from,to,note\n1,X1:1.int,K1:A1,\"a \"\"b\"\"\"\r\n2,X1:2.int,K1:A2,\n";
  for (std::size_t at = 0; at < text.size(); ++at)
    for (const char changed : {'\0', '"', ',', ';', '\n', '\r', '\t', '\xC2', '\xA0', ':', '.'}) {
      std::string broken = text;
      broken[at] = changed;
      const auto netlist = load_wire_list(broken);
      EXPECT_TRUE(netlist ? netlist->conductors.size() <= 4 : !netlist.error().empty()) << broken;
    }
}

}  // namespace
}  // namespace ringtrue
