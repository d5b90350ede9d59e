// The demo panels break no rule but one notice that is true of them; an error put into the panel breaks its
// rule.
#include <gmock/gmock.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include "check/drawing.hpp"
#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::string k_netlists = RINGTRUE_NETLISTS;

std::string read_file(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

/// The grain dryer's drawing, each text found exactly once replaced by another.
Netlist dryer_with(const std::string& name, const std::string& drawn, const std::string& instead) {
  const std::string folder = k_netlists + "/grain-dryer/";
  std::map<std::string, std::string> files;
  for (const char* file : {"conductors.csv", "parts.csv", "channels.csv", "potentials.csv", "panel.csv"})
    files[file] = read_file(folder + file);
  std::string& text = files.at(name);
  const std::size_t at = text.find(drawn);
  EXPECT_NE(at, std::string::npos) << drawn;
  EXPECT_EQ(text.find(drawn, at + 1), std::string::npos) << drawn << " stands there twice";
  text.replace(at, drawn.size(), instead);
  return load({files["conductors.csv"], files["parts.csv"], files["channels.csv"], files["potentials.csv"],
               files["panel.csv"]});
}

struct Seeded {
  std::string rule, file, drawn, instead;
};

const std::vector<Seeded>& seeded() {
  static const std::string wires = "conductors.csv", parts = "parts.csv", channels = "channels.csv";
  static const std::vector<Seeded> all = {
      {"wire-number-on-two-nets", wires, "\n1004,A1:0.1", "\n1003,A1:0.1"},
      {"listed-twice", wires, "\n1004,A1:0.1", "\n1003,X3:1.int,A1:0.0,wire,,,,,,10.3,,,\n1004,A1:0.1"},
      {"part-listed-twice", parts, "\nK22,contact-no,11,14",
       "\nK22,contact-no,11,14,,,,,,panel,,13.5,\nK22,contact-no,11,14"},
      {"point-not-drawn", "potentials.csv", "G2:+", "G22:+"},
      {"both-ends-the-same", wires, "504,A2:M,A5:M", "504,A2:M,A2:M"},
      {"core-used-twice", wires, "B2:2,core,BK,0.75,26,W102,2", "B2:2,core,BK,0.75,26,W102,1"},
      {"point-on-no-part", wires, "616,K10:22,K11:21", "616,K10:22,K11:31"},
      {"dangling-conductor", wires, "1210,A3:2.5,X4:1.int", "1210,A3:2.5,X4:5.int"},
      {"conductors-per-side", wires, "516,X8:15.int", "516,X8:16.int"},
      {"bridge-between-non-neighbours", wires, ",X2:4.int,X2:5.int,bridge", ",X2:4.int,X2:6.int,bridge"},
      {"conductors-in-a-ring", wires, "\n508,", "\n599,X8:12.int,K5:A2,wire,BU,0.75,0.2,,,5.5,0V2,,\n508,"},
      {"unconnected-channel", wires, "1008,A1:0.5,X3:6.int", "1008,A0:X1,X3:6.int"},
      {"channel-without-field-terminal", channels, "FAN,Drying fan,K1:A1,", "FAN,Drying fan,,"},
      {"channel-list-disagrees", wires, "1003,A1:0.0,X3:1.int", "1003,A1:0.0,X3:12.int"},
      {"two-channels-on-one-net", wires, "1005,A1:0.2,X3:3.int", "1005,A1:0.2,X3:2.int"},
      {"duplicate-address", channels, "%IX0.4", "%IX0.3"},
      {"duplicate-tag", channels, "AIR_PRESSURE", "GAS_PRESSURE"},
      {"sense-against-wiring", channels, "A2:M,S2,passive,0,sink", "A2:M,S2,passive,0,source"},
      {"sensor-against-channel", channels, "B4,active,0,sink,pnp", "B4,active,0,sink,npn"},
      {"feed-against-channel", channels, "A5:0-,B11,passive", "A5:0-,B11,active"},
      {"potentials-joined", wires, "1901,X9:1,G1:PE", "1901,X9:1,G1:+"},
      {"like-potentials-joined", wires, "408,G2:-,X8:11.int", "408,G2:-,X2:11.int"},
      {"potential-joined-to-pe", wires, "1901,X9:1,G1:PE", "1901,X9:1,G1:-"},
      {"pe-not-continuous", wires, "1903,X9:3,A0:PE", "1903,A0:FE,A0:PE"},
      {"pe-not-green-yellow", wires, "A0:PE,wire,GNYE", "A0:PE,wire,BK"},
      {"green-yellow-not-pe", wires, "701,X2:4.ext,A0:L+,wire,BU", "701,X2:4.ext,A0:L+,wire,GNYE"},
      {"protective-conductors-per-terminal", wires, "1902,X9:2,G2:PE", "1902,X9:1,G2:PE"},
      {"colour-against-circuit", wires, "701,X2:4.ext,A0:L+,wire,BU", "701,X2:4.ext,A0:L+,wire,RD"},
      {"contact-number-against-kind", parts, "K3,contact-nc,21,22", "K3,contact-no,21,22"},
      {"contact-actuated-by-nothing", parts, "K5,coil,A1,A2,160,24,,,,panel,,12.5,\n", ""},
      {"coil-actuates-nothing", parts, "K22,contact-no,11,14", "K23,contact-no,11,14"},
      {"safety-not-stated", "panel.csv", "safety,marked\n", ""},
      {"safety-against-roles", "panel.csv", "safety,marked\n", "safety,none\n"},
      {"small-fuse-without-ohms", parts, "X2:7,fuse,int,ext,,,1,", "X2:7,fuse,int,ext,,,0.2,"},
      {"conductor-below-its-fuse", parts, "X2:7,fuse,int,ext,,,1,", "X2:7,fuse,int,ext,,,16,"},
      {"missing-sheet", wires, "A0:L+,wire,BU,1,1.2,,,7.1,", "A0:L+,wire,BU,1,1.2,,,,"},
  };
  return all;
}

TEST(CheckDemo, NothingIsFoundButTheRing) {
  for (const char* path : {"/grain-dryer", "/grain-dryer/netlist.xml"})
    EXPECT_THAT(broken_rules(load_netlist(k_netlists + path).value()), ElementsAre("conductors-in-a-ring"));
  EXPECT_THAT(broken_rules(load_netlist(k_netlists + "/quickstart").value()), IsEmpty());
}

TEST(CheckDemo, AnErrorPutIntoThePanelBreaksItsRule) {
  const Netlist clean = load_netlist(k_netlists + "/grain-dryer").value();
  for (const Seeded& error : seeded()) {
    const Netlist wrong = dryer_with(error.file, error.drawn, error.instead);
    const auto count = [&](const Netlist& netlist) {
      const auto found = broken_rules(netlist);
      return std::count(found.begin(), found.end(), error.rule);
    };
    EXPECT_GT(count(wrong), count(clean)) << error.rule;
  }
}

/// Gives each conductor the first number of its net, as a set that numbers by potential has it.
void number_by_potential(Netlist& netlist) {
  const ConductionGraph graph(netlist);
  const CheckOptions options;
  const check::Drawing drawing(graph, options);
  std::map<std::uint32_t, std::string_view> number_of;
  for (std::uint32_t i = 0; i < netlist.conductors.size(); ++i) {
    const std::string_view number = netlist.conductor_text.get(ConductorText::wire, i);
    if (number.empty()) continue;
    const std::uint32_t net = drawing.wire_net[index(netlist.conductors[i].from)];
    netlist.conductor_text.set(ConductorText::wire, i, number_of.try_emplace(net, number).first->second);
  }
}

TEST(CheckDemo, TheSamePanelNumberedByPotential) {
  Netlist netlist = load_netlist(k_netlists + "/grain-dryer").value();
  number_by_potential(netlist);
  EXPECT_THAT(broken_rules(netlist), ElementsAre("conductors-in-a-ring"));
  const ConductionGraph graph(netlist);
  EXPECT_EQ(check_drawing(graph).numbering.numbering, Numbering::per_potential);
  EXPECT_EQ(check_drawing(graph).numbering.confidence, 1);
  for (std::uint32_t i = 0; i < netlist.conductors.size(); ++i)
    if (netlist.points.name(netlist.conductors[i].from) == "A5:M")
      netlist.conductor_text.set(ConductorText::wire, i, "9999");
  EXPECT_THAT(broken_rules(netlist), ElementsAre("net-under-several-numbers", "conductors-in-a-ring"));
}

TEST(CheckDemo, EveryRuleHasItsError) {
  std::vector<std::string> tried{"net-under-several-numbers"};
  for (const Seeded& error : seeded()) tried.push_back(error.rule);
  for (const Rule& rule : rules()) EXPECT_THAT(tried, Contains(std::string(rule.id)));
}

TEST(CheckOrder, TheWorstFirstThenByFileAndLine) {
  const Netlist netlist =
      load({.conductors = "wire,from,to,sheet\n1,A1:1,A2:1,1.1\n2,A3:1,A3:1,\n3,A4:1,A4:1,2.1\n"
                          "4,A5:1,A6:1,\n"});
  EXPECT_THAT(broken_rules(netlist),
              ElementsAre("both-ends-the-same", "both-ends-the-same", "missing-sheet", "missing-sheet"));
}

TEST(CheckOptions, ARuleThatIsOffFindsNothingAndASeverityIsTaken) {
  const Netlist netlist = load_netlist(k_netlists + "/grain-dryer").value();
  const ConductionGraph graph(netlist);
  CheckOptions options;
  const std::size_t ring = find_rule("conductors-in-a-ring").value();
  options.severities[ring] = Severity::error;
  EXPECT_EQ(check_drawing(graph, options).count(Severity::error), 1u);
  options.severities[ring].reset();
  EXPECT_THAT(check_drawing(graph, options).problems, IsEmpty());
}

}  // namespace
}  // namespace ringtrue
