// Where conductors end, rings, and contacts.
#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;

const std::string k_relay = "part,kind,a,b\nK1,coil,A1,A2\nK1,contact-no,13,14\n";

DrawingFiles drawing(std::string conductors, std::string parts = "") {
  DrawingFiles files;
  files.conductors = "wire,from,to,kind\n" + conductors;
  files.parts = std::move(parts);
  return files;
}

TEST(CheckEnds, PointOnNoPart) {
  expect_rule({"point-on-no-part", drawing("1,K1:13,K1:A1,\n2,K1:14,K1:15,\n", k_relay),
               drawing("1,K1:13,K1:A1,\n2,K1:14,K1:A2,\n", k_relay)});
}

TEST(CheckEnds, TerminalThatItsStripLacks) {
  const std::string parts = "part,kind,a,b\nX1:1,terminal,int,ext\nA1,electronics,L+,M\n";
  expect_rule(
      {"point-on-no-part", drawing("1,A1:L+,X1:2.int,\n", parts), drawing("1,A1:L+,X1:1.int,\n", parts)});
}

TEST(CheckEnds, PinThatNoRowOfAModuleNamesIsKnownNowhere) {
  EXPECT_TRUE(broken_rules(load(drawing("1,A1:7,A1:PE,\n", "part,kind,a,b\nA1,electronics,L+,M\n"))).empty());
}

TEST(CheckEnds, ADeviceThatOnlyTheChannelListNamesIsKnown) {
  DrawingFiles files = drawing("1,A1:0,X1:1.int,\n2,X1:1.ext,B1:1,\n",
                               "part,kind,a,b\nX1:1,terminal,int,ext\nA1,electronics,L+,M\n");
  EXPECT_EQ(broken_rules(load(files)), std::vector<std::string>{"point-on-no-part"});
  files.channels = "point,type,device,field\nA1:0,DI,B1,X1:1.ext\n";
  EXPECT_TRUE(broken_rules(load(files)).empty());
}

TEST(CheckEnds, DanglingConductor) {
  expect_rule({"dangling-conductor", drawing("1,K1:13,K1:A1,\n", k_relay),
               drawing("1,K1:13,K1:A1,\n2,K1:14,K1:A2,\n", k_relay)});
}

TEST(CheckEnds, TerminalWithAFreeSideDanglesOnlyWhereThatSideOfTheStripIsDrawn) {
  const std::string parts =
      "part,kind,a,b\nX1:1,terminal,int,ext\nX1:2,terminal,int,ext\nA1,electronics,L+,M\nB1,sensor,+,-\n";
  const std::string wires = "1,A1:1,X1:1.int,\n2,A1:2,X1:2.int,\n";
  expect_rule({"dangling-conductor", drawing(wires + "3,X1:1.ext,B1:+,\n", parts), drawing(wires, parts)});
}

TEST(CheckEnds, ConductorsPerSide) {
  const std::string two = "1,A1:1,X1:1.int,\n2,A1:2,X1:1.int,\n,X1:1.int,X1:2.int,bridge\n";
  expect_rule({"conductors-per-side", drawing(two + "3,A1:3,X1:1.int,\n"), drawing(two)});
}

TEST(CheckEnds, TheLimitOfConductorsPerSideIsSettable) {
  CheckOptions options;
  options.conductors_per_side = 1;
  EXPECT_EQ(broken_rules(load(drawing("1,A1:1,X1:1.int,\n2,A1:2,X1:1.int,\n")), options),
            std::vector<std::string>{"conductors-per-side"});
}

TEST(CheckEnds, BridgeBetweenNonNeighbours) {
  expect_rule({"bridge-between-non-neighbours", drawing(",X1:1.int,X1:3.int,bridge\n"),
               drawing(",X1:1.int,X1:2.int,bridge\n")});
  expect_rule({"bridge-between-non-neighbours", drawing(",X1:1.int,X2:2.int,bridge\n"),
               drawing(",X1:1o.int,X1:2o.int,bridge\n")});
}

TEST(CheckRings, ConductorsInARing) {
  expect_rule({"conductors-in-a-ring", drawing("1,A1:1,A2:1,\n2,A1:1,A2:1,\n"),
               drawing("1,A1:1,A2:1,\n2,A1:1,A2:2,\n")});
  expect_rule({"conductors-in-a-ring", drawing("1,A1:1,A2:1,\n2,A2:1,A3:1,\n3,A3:1,A1:1,\n"),
               drawing("1,A1:1,A2:1,\n2,A2:1,A3:1,\n3,A3:1,A4:1,\n")});
}

TEST(CheckRings, EachRingIsOneProblemWithItsOwnConductors) {
  const Netlist netlist =
      load(drawing("1,A1:1,A2:1,\n2,A1:1,A2:1,\n3,A2:1,A3:1,\n4,A3:1,A4:1,\n5,A3:1,A4:1,\n"));
  const CheckReport report = check_drawing(ConductionGraph(netlist));
  ASSERT_EQ(report.problems.size(), 2u);
  for (const Problem& problem : report.problems) EXPECT_EQ(problem.rows.size(), 2u);
  EXPECT_EQ(report.problems[1].rows[0].what, "wire 4, A3:1 to A4:1");
}

// EN 50005: x1-x2 break, x3-x4 make, x1-x2-x4 changeover (check-values 7.3: three teaching pages seen).
TEST(CheckContacts, ContactNumberAgainstKind) {
  const auto contact = [](const std::string& row) {
    return drawing("1,A1:L+,A1:M,\n", "part,kind,a,b\nA1,electronics,L+,M\nK1,coil,A1,A2\nK1," + row + "\n");
  };
  expect_rule({"contact-number-against-kind", contact("contact-nc,13,14"), contact("contact-no,13,14")});
  expect_rule({"contact-number-against-kind", contact("contact-no,21,22"), contact("contact-nc,22,21")});
  expect_rule({"contact-number-against-kind", contact("contact-nc,11,14"), contact("contact-no,11,14")});
  // A single digit is a main pole; overload contacts 95-96 and 97-98 are not judged.
  for (const char* row : {"contact-no,1,2", "contact-nc,95,96", "contact-no,97,98", "contact-no,x1,x2"})
    EXPECT_TRUE(broken_rules(load(contact(row))).empty()) << row;
}

TEST(CheckContacts, ContactActuatedByNothing) {
  const auto moved = [](const std::string& rows) {
    return drawing("1,A1:L+,A1:M,\n", "part,kind,a,b,actuated_by\nA1,electronics,L+,M,\n" + rows);
  };
  expect_rule({"contact-actuated-by-nothing", moved("K1,contact-no,13,14,K2\n"),
               moved("K1,contact-no,13,14,K2\nK2,coil,A1,A2,\n")});
  std::string four;
  for (const char* relay : {"K1", "K2", "K3", "K4"})
    four += std::string(relay) + ",coil,A1,A2,\n" + relay + ",contact-no,13,14,\n";
  expect_rule({"contact-actuated-by-nothing", moved(four + "K5,contact-no,13,14,\n"),
               moved(four + "S5,contact-no,13,14,\n")});
}

TEST(CheckContacts, CoilActuatesNothing) {
  const auto coil = [](const std::string& rows) {
    return drawing("1,A1:L+,A1:M,\n", "part,kind,a,b,place\nA1,electronics,L+,M,\n" + rows);
  };
  expect_rule({"coil-actuates-nothing", coil("K1,coil,A1,A2,\n"), coil("Y1,coil,A1,A2,field\n")});
}

TEST(CheckEnds, PointNotDrawn) {
  DrawingFiles files;
  files.conductors = "wire,from,to\n1,A1:0,X1:1.int\n2,G1:+,X1:2.int\n3,G1:-,A1:M\n";
  files.parts = "part,kind,a,b\nG1,supply,+,-\nA1,electronics,L+,M\nX1:1,terminal,,\nX1:2,terminal,,\n";
  const auto with = [&](const std::string& return_point, const std::string& common, const std::string& plus) {
    DrawingFiles made = files;
    made.channels = "point,type,return,common\nA1:0,DI," + return_point + "," + common + "\n";
    made.potentials = "name,kind,volts,point\n+24V,dc+,24," + plus + "\n0V,dc-,0,G1:-\n";
    return made;
  };
  const DrawingFiles right = with("X1:2", "A1:M", "G1:+");
  expect_rule({"point-not-drawn", with("X1:22", "A1:M", "G1:+"), right});
  expect_rule({"point-not-drawn", with("X1:2", "A1:N", "G1:+"), right});
  expect_rule({"point-not-drawn", with("X1:2", "A1:M", "G7:+"), right});
}

}  // namespace
}  // namespace ringtrue
