// Numbers, rows and the panel's own statements.
#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;

DrawingFiles conductors(std::string text) {
  DrawingFiles files;
  files.conductors = std::move(text);
  return files;
}

TEST(CheckNumbering, WireNumberOnTwoNets) {
  expect_rule({"wire-number-on-two-nets", conductors("wire,from,to\n1,A1:1,A2:1\n1,A1:2,A2:2\n"),
               conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A3:1\n")});
}

TEST(CheckNumbering, TheSameNumberOnBothSidesOfATerminalIsOneNet) {
  EXPECT_TRUE(broken_rules(load(conductors("wire,from,to\n1,A1:1,X1:1.int\n1,X1:1.ext,A2:1\n"))).empty());
}

TEST(CheckNumbering, TheSameNumberOnBothSidesOfAFuseIsTwo) {
  DrawingFiles files = conductors("wire,from,to\n1,A1:1,F1:1\n1,F1:2,A1:2\n");
  files.parts = "part,kind,a,b\nF1,fuse,1,2\nA1,electronics,L+,M\n";
  EXPECT_EQ(broken_rules(load(files)), std::vector<std::string>{"wire-number-on-two-nets"});
}

// Of five conductors that share the net with an earlier one, four repeat its number: a share of 0.8, the
// least that decides. With three of four it's 0.75.
TEST(CheckNumbering, NetUnderSeveralNumbers) {
  expect_rule({"net-under-several-numbers",
               conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A3:1\n1,A3:1,A4:1\n1,A4:1,A5:1\n1,A5:1,A6:1\n"
                          "2,A6:1,A7:1\n"),
               conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A3:1\n1,A3:1,A4:1\n1,A4:1,A5:1\n"
                          "2,A5:1,A7:1\n")});
}

TEST(CheckNumbering, TheNumberingGivenGoesBeforeTheOneFound) {
  const Netlist netlist = load(conductors("wire,from,to\n1,A1:1,A2:1\n2,A2:1,A3:1\n"));
  CheckOptions options;
  EXPECT_TRUE(broken_rules(netlist, options).empty());
  options.numbering = Numbering::per_potential;
  EXPECT_EQ(broken_rules(netlist, options), std::vector<std::string>{"net-under-several-numbers"});
}

TEST(CheckNumbering, ConfidenceIsTheShareOfTheConductorsThatSpeakForIt) {
  const Netlist netlist =
      load(conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A3:1\n2,A3:1,A4:1\n3,A4:1,A5:1\n"));
  const NumberingFound found = check_drawing(ConductionGraph(netlist)).numbering;
  EXPECT_EQ(found.conductors, 3u);
  EXPECT_DOUBLE_EQ(found.confidence, 2.0 / 3);
  EXPECT_EQ(found.numbering, Numbering::undecided);
}

TEST(CheckRows, ListedTwice) {
  expect_rule({"listed-twice", conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A1:1\n"),
               conductors("wire,from,to\n1,A1:1,A2:1\n1,A2:1,A3:1\n")});
}

TEST(CheckRows, ARowListedTwiceNamesBothRows) {
  const Netlist netlist =
      load(conductors("wire,from,to\n1,A1:1,A2:1\n2,A2:1,A3:1\n1,A2:1,A1:1\n3,A3:1,A4:1\n2,A3:1,A2:1\n"));
  const CheckReport report = check_drawing(ConductionGraph(netlist));
  ASSERT_EQ(report.problems.size(), 2u);
  EXPECT_EQ(report.problems[0].rows[0].source.line, 4u);
  EXPECT_EQ(report.problems[0].rows[1].source.line, 2u);
  EXPECT_EQ(report.problems[1].rows[0].source.line, 6u);
  EXPECT_EQ(report.problems[1].rows[1].source.line, 3u);
}

TEST(CheckRows, PartListedTwice) {
  DrawingFiles twice = conductors("wire,from,to\n1,P1:x1,A1:1\n2,P1:x2,A1:2\n"), of_two_kinds = twice;
  const std::string rest = "part,kind,a,b\nA1,electronics,1,2\nP1,lamp,x1,x2\nP1,";
  twice.parts = rest + "lamp,x1,x2\n";
  of_two_kinds.parts = rest + "resistor,x1,x2\n";
  expect_rule({"part-listed-twice", twice, of_two_kinds});
  twice.parts = rest + "resistor,x1,x2\nX1:4,terminal,,\nX1:4,terminal,,\n";
  EXPECT_EQ(broken_rules(load(twice)), std::vector<std::string>{"part-listed-twice"});
}

TEST(CheckRows, BothEndsTheSame) {
  expect_rule({"both-ends-the-same", conductors("wire,from,to\n1,A1:1,A1:1\n"),
               conductors("wire,from,to\n1,A1:1,A1:2\n")});
}

TEST(CheckRows, CoreUsedTwice) {
  const std::string header = "from,to,kind,cable,core\nA1:1,B1:1,core,W1,1\n";
  expect_rule({"core-used-twice", conductors(header + "A1:2,B1:2,core,W1,1\n"),
               conductors(header + "A1:2,B1:2,core,W1,2\n")});
  expect_rule({"core-used-twice", conductors(header + "A1:2,-,core,W1,1\n"),
               conductors(header + "A1:2,B1:2,core,W2,1\n")});
}

TEST(CheckRows, BothEndsOfAShieldMayBeLanded) {
  EXPECT_TRUE(
      broken_rules(load(conductors("from,to,kind,cable,core\nA1:1,B1:1,core,W1,SH\nA1:2,B1:2,core,W1,SH\n")))
          .empty());
}

TEST(CheckRows, MissingSheet) {
  expect_rule({"missing-sheet", conductors("wire,from,to,sheet\n1,A1:1,A2:1,1.1\n2,A1:2,A3:1,\n"),
               conductors("wire,from,to,sheet\n1,A1:1,A2:1,\n2,A1:2,A3:1,\n")});
}

TEST(CheckRows, SafetyNotStated) {
  DrawingFiles silent;
  silent.panel = "key,value\npanel,GD1\n";
  EXPECT_TRUE(broken_rules(load(silent)).empty()) << "a wire list alone";
  silent.parts = "part,kind,a,b\nA1,electronics,1,M\nA2,electronics,1,M\n";
  DrawingFiles stated = silent;
  stated.panel = "key,value\nsafety,none\n";
  expect_rule({"safety-not-stated", silent, stated});
}

TEST(CheckRows, SafetyAgainstRoles) {
  DrawingFiles files = conductors("wire,from,to,role\n1,A1:1,A2:1,stop\n"), marked = files;
  marked.panel = "key,value\nsafety,marked\n";
  expect_rule({"safety-against-roles", files, marked});
  DrawingFiles without;
  without.panel = marked.panel;
  expect_rule({"safety-against-roles", without, marked});
}

}  // namespace
}  // namespace ringtrue
