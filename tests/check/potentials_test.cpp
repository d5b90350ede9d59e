// Potentials, the protective conductor, and colours.
#include "check/colour_code.hpp"
#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;

const std::string k_dc = "+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n", k_pe = "PE,pe,0,PE\n";

DrawingFiles drawing(std::string conductors, const std::string& potentials, std::string parts = "") {
  DrawingFiles files;
  files.conductors = "wire,from,to,colour\n" + conductors;
  files.potentials = "name,kind,volts,point\n" + potentials;
  files.parts = std::move(parts);
  return files;
}

TEST(CheckPotentials, PotentialsJoined) {
  expect_rule({"potentials-joined", drawing("1,G1:+,A1:1,\n2,A1:1,G1:-,\n", k_dc),
               drawing("1,G1:+,A1:1,\n2,A1:2,G1:-,\n", k_dc)});
}

TEST(CheckPotentials, TheRowsOfAJointAreTheWayBetweenThem) {
  const Netlist netlist = load(drawing("1,G1:+,A1:1,\n2,A1:1,G1:-,\n3,A1:1,A2:1,\n", k_dc));
  const CheckReport report = check_drawing(ConductionGraph(netlist));
  ASSERT_EQ(report.problems.size(), 1u);
  std::vector<std::string> rows;
  for (const ProblemRow& row : report.problems[0].rows) rows.push_back(row.what);
  EXPECT_EQ(rows, (std::vector<std::string>{"potential +24V at G1:+", "potential 0V at G1:-",
                                            "wire 1, G1:+ to A1:1", "wire 2, A1:1 to G1:-"}));
}

TEST(CheckPotentials, LikePotentialsJoined) {
  const std::string minus = "0V1,dc-,0,G1:-\n0V2,dc-,0,G2:-\n";
  expect_rule({"like-potentials-joined", drawing("1,G1:-,G2:-,\n", minus), drawing("1,G1:-,A1:1,\n", minus)});
}

TEST(CheckPotentials, PotentialJoinedToPe) {
  expect_rule({"potential-joined-to-pe", drawing("1,G1:-,PE,\n", k_dc + k_pe),
               drawing("1,G1:-,A1:1,\n2,PE,A1:PE,\n", k_dc + k_pe)});
}

TEST(CheckProtective, PeNotContinuous) {
  expect_rule({"pe-not-continuous", drawing("1,PE,A1:PE,GNYE\n2,A2:PE,A3:PE,GNYE\n", k_pe),
               drawing("1,PE,A1:PE,GNYE\n2,A1:PE,A3:PE,GNYE\n", k_pe)});
}

TEST(CheckProtective, TheRailOfPeTerminalsIsPeWhereNoPotentialIsDeclared) {
  const std::string parts =
      "part,kind,a,b\nX9:1,pe-terminal,int,ext\nA1,electronics,L+,M\nA2,electronics,L+,M\n";
  expect_rule({"pe-not-continuous",
               drawing("1,X9:1.int,A1:PE,GNYE\n2,A2:FE,A2:PE,GNYE\n", k_dc, parts + "G1,supply,+,-\n"),
               drawing("1,X9:1.int,A1:PE,GNYE\n2,A1:PE,A2:PE,GNYE\n", k_dc, parts + "G1,supply,+,-\n")});
}

TEST(CheckProtective, AFuseBreaksPe) {
  const std::string parts = "part,kind,a,b\nF1,fuse,1,2\nA1,electronics,L+,M\n";
  EXPECT_EQ(broken_rules(load(drawing("1,PE,F1:1,GNYE\n2,F1:2,A1:PE,GNYE\n", k_pe, parts))),
            std::vector<std::string>{"pe-not-continuous"});
}

TEST(CheckProtective, PeNotGreenYellow) {
  expect_rule({"pe-not-green-yellow", drawing("1,PE,A1:PE,GN\n", k_pe), drawing("1,PE,A1:PE,YEGN\n", k_pe)});
}

// NFPA 79: green, with or without a yellow stripe (check-values 2.1: quotations seen).
TEST(CheckProtective, GreenAloneWillDoForOneProfile) {
  CheckOptions options;
  options.colours = ColourProfile::nfpa_79;
  EXPECT_TRUE(broken_rules(load(drawing("1,PE,A1:PE,GN\n", k_pe)), options).empty());
}

TEST(CheckProtective, GreenYellowNotPe) {
  expect_rule(
      {"green-yellow-not-pe", drawing("1,G1:+,A1:1,GNYE\n", k_dc), drawing("1,G1:+,A1:1,BU\n", k_dc)});
}

// IEC 60204-1, 13.1.1: one protective conductor per protective terminal point (check-values 2.2: an extract).
TEST(CheckProtective, ProtectiveConductorsPerTerminal) {
  const std::string parts =
      "part,kind,a,b\nX9:1,pe-terminal,int,ext\nA1,electronics,L+,M\nA2,electronics,L+,M\n";
  expect_rule({"protective-conductors-per-terminal",
               drawing("1,X9:1.int,A1:PE,GNYE\n2,X9:1.int,A2:PE,GNYE\n", k_pe, parts),
               drawing("1,X9:1.int,A1:PE,GNYE\n2,X9:1.ext,A2:PE,GNYE\n", k_pe, parts)});
}

// IEC 60204-1, 13.2.4: DC control blue, AC control red, power black, neutral light blue; what stays live with
// the main switch off, orange (check-values 2.1: extracts seen).
TEST(CheckColours, ColourAgainstCircuit) {
  const std::string ac = "L1,ac-line,230,X0:L1.ext\nN,ac-neutral,0,X0:N.ext\n";
  expect_rule(
      {"colour-against-circuit", drawing("1,G1:+,A1:1,BN\n", k_dc), drawing("1,G1:+,A1:1,BU\n", k_dc)});
  expect_rule({"colour-against-circuit", drawing("1,X0:L1.int,A1:1,BU\n", ac),
               drawing("1,X0:L1.int,A1:1,red\n", ac)});
  expect_rule({"colour-against-circuit", drawing("1,X0:N.int,A1:1,BK\n", ac),
               drawing("1,X0:N.int,A1:1,light blue\n", ac)});
}

// NFPA 79: grounded AC white or grey, grounded DC white with blue stripe (check-values 2.1: quotations seen).
TEST(CheckColours, TheOtherProfile) {
  CheckOptions options;
  options.colours = ColourProfile::nfpa_79;
  const std::string ac = "N,ac-neutral,0,X0:N.ext\n";
  EXPECT_EQ(broken_rules(load(drawing("1,X0:N.int,A1:1,BU\n", ac)), options),
            std::vector<std::string>{"colour-against-circuit"});
  EXPECT_TRUE(broken_rules(load(drawing("1,X0:N.int,A1:1,WH\n", ac)), options).empty());
  EXPECT_TRUE(broken_rules(load(drawing("1,G1:-,A1:1,white/blue\n", k_dc)), options).empty());
  EXPECT_FALSE(broken_rules(load(drawing("1,G1:+,A1:1,white/blue\n", k_dc)), options).empty());
}

// IEC 60757 (check-values 3.1): the codes, in capitals or not; combinations in the order of the table, green
// with yellow only as GNYE.
TEST(ColourCode, WordsAndCodes) {
  using check::colour_code;
  EXPECT_EQ(colour_code("bk"), "BK");
  EXPECT_EQ(colour_code("Grey"), "GY");
  EXPECT_EQ(colour_code("dark blue"), "BU");
  EXPECT_EQ(colour_code("WH/BU"), "BUWH");
  EXPECT_EQ(colour_code("BURD"), "RDBU");
  EXPECT_EQ(colour_code("white with yellow stripe"), "YEWH");
  EXPECT_EQ(colour_code("green-and-yellow"), "GNYE");
  EXPECT_EQ(colour_code("YEGN"), "GNYE");
  EXPECT_EQ(colour_code("chartreuse"), "");
  EXPECT_EQ(colour_code(""), "");
}

}  // namespace
}  // namespace ringtrue
