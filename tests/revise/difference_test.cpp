#include "ringtrue/revise/difference.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

/// The changed rows as lines `moved 12 -> 12`, by the names of both revisions.
std::vector<std::string> changes(const std::string& before, const std::string& after) {
  const Netlist old_net = testing::netlist(before), new_net = testing::netlist(after);
  const ConductionGraph old_graph(old_net), new_graph(new_net);
  const Difference made = difference(old_graph, new_graph);
  std::vector<std::string> lines;
  for (const auto* rows : {&made.conductors, &made.parts})
    for (const ChangedRow& row : *rows)
      lines.push_back(std::string(word(row.change)) + " " +
                      (row.before == ElementId::none ? "-" : old_graph.element_name(row.before)) + " " +
                      (row.after == ElementId::none ? "-" : new_graph.element_name(row.after)));
  return lines;
}

using Lines = std::vector<std::string>;

TEST(Difference, RowOrderAndWhichEndIsWrittenFirstChangeNothing) {
  EXPECT_EQ(changes("1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\npart K1 coil A1 A2 400\n",
                    "part K1 coil A2 A1 400\n2 X1:2.int K1:A2\n1 X1:1.int K1:A1\n"),
            Lines{});
}

TEST(Difference, TheSameEndsByAnotherNumberAreRenumbered) {
  EXPECT_EQ(changes("1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n", "2 K1:A1 X1:1.int\n1 K1:A2 X1:2.int\n"),
            (Lines{"renumbered 1 2", "renumbered 2 1"}));
}

TEST(Difference, TheSameNumberWithACommonEndIsMoved) {
  EXPECT_EQ(changes("1 K1:A1 X1:1.int\n", "1 K1:A1 X1:3.int\n"), Lines{"moved 1 1"});
  EXPECT_EQ(changes("1 K1:A1 X1:1.int\n", "1 K2:A1 X1:3.int\n"), (Lines{"gone 1 -", "new - 1"}));
}

TEST(Difference, BridgesHaveNoNumberThatCouldMove) {
  EXPECT_EQ(changes("- X1:1.int X1:2.int bridge\n", "- X1:2.int X1:3.int bridge\n"),
            (Lines{"gone X1:1-X1:2 -", "new - X1:2-X1:3"}));
}

TEST(Difference, AnotherSizeIsAConductorToBeExchanged) {
  EXPECT_EQ(changes("1 K1:A1 X1:1.int wire - 2 0.75\n", "1 K1:A1 X1:1.int wire - 2 1.5\n"),
            Lines{"changed 1 1"});
}

TEST(Difference, ATerminalIsTheSameWhetherStatedOrKnownFromTheWireList) {
  EXPECT_EQ(changes("1 K1:A1 X1:1.int\n2 X1:1.ext K2:A1\n",
                    "1 K1:A1 X1:1.int\n2 X1:1.ext K2:A1\npart X1:1 terminal\n"),
            Lines{});
}

TEST(Difference, AnotherCoilOpensEveryClampOfItsRelayAndNoOther) {
  const std::string wires = "1 K1:A1 X1:1.int\n2 K1:14 X1:2.int\n";
  const Netlist before = testing::netlist(wires + "part K1 coil A1 A2 400\npart K1 contact-no 11 14\n");
  const Netlist after = testing::netlist(wires + "part K1 coil A1 A2 90\npart K1 contact-no 11 14\n");
  const ConductionGraph old_graph(before), new_graph(after);
  const Difference made = difference(old_graph, new_graph);
  const auto touched = [&](const char* name) {
    return made.touched_before[index(testing::point(before, name))];
  };
  for (const char* name : {"K1:A1", "K1:A2", "K1:11", "K1:14"}) EXPECT_EQ(touched(name), 1) << name;
  for (const char* name : {"X1:1.int", "X1:2.int"}) EXPECT_EQ(touched(name), 0) << name;
}

/// Two revisions side by side.
Difference between(const std::string& before, const std::string& after) {
  const Netlist old_net = testing::netlist(before), new_net = testing::netlist(after);
  return difference(ConductionGraph(old_net), ConductionGraph(new_net));
}

TEST(Difference, ARenamedPartKeepsItsRowsAndWhatLandsOnIt) {
  const Difference found =
      between("1 G1:+ K1:A1\n2 K1:A2 X1:1.int\npart K1 coil A1 A2 400\npart X1:1 terminal\n",
              "1 G1:+ K8:A1\n2 X8:1.int K8:A2\npart X8:1 terminal\npart K8 coil A1 A2 400\n");
  ASSERT_EQ(found.renamed.size(), 2u);
  EXPECT_EQ(found.renamed[0].before + found.renamed[0].after, "K1K8");
  EXPECT_EQ(found.renamed[1].before + found.renamed[1].after, "X1X8");
  EXPECT_TRUE(found.conductors.empty());
  EXPECT_TRUE(found.is_electrically_same());
}

TEST(Difference, PartsThatNobodyCouldTellApartAreGoneAndNew) {
  EXPECT_TRUE(between("part K1 coil A1 A2 400\npart K2 coil A1 A2 400\n1 G1:+ G1:-\n",
                      "part K3 coil A1 A2 400\npart K4 coil A1 A2 400\n1 G1:+ G1:-\n")
                  .renamed.empty());
}

TEST(Difference, APartOfAnotherValueOrLandingIsNoRenamedOne) {
  for (const char* after : {"1 G1:+ K8:A1\n2 K8:A2 G1:-\npart K8 coil A1 A2 520\n",
                            "1 G1:+ K8:A1\n2 K8:A2 G1:PE\npart K8 coil A1 A2 400\n"})
    EXPECT_TRUE(between("1 G1:+ K1:A1\n2 K1:A2 G1:-\npart K1 coil A1 A2 400\n", after).renamed.empty())
        << after;
}

TEST(Difference, AFilledInLengthIsTheSameConductorAndAnotherLengthIsNot) {
  const std::string open = "1 G1:+ K1:A1\n", stated = "1 G1:+ K1:A1 wire - 3 0.75\n",
                    other = "1 G1:+ K1:A1 wire - 9 0.75\n";
  const Difference filled_in = between(open, stated);
  ASSERT_EQ(filled_in.conductors.size(), 1u);
  EXPECT_EQ(filled_in.conductors[0].change, Change::completed);
  EXPECT_EQ(filled_in.element_after[0], ElementId{0});
  EXPECT_EQ(between(stated, other).conductors.at(0).change, Change::changed);
  EXPECT_EQ(between(stated, open).conductors.at(0).change, Change::changed);
}

TEST(Difference, ChannelsAndPotentialsThatSayOtherwiseAreListed) {
  const Difference found = between(
      "1 A1:0 X1:1.int\nchannel A1:0 DI X1:1.ext - - LEVEL\nchannel A1:1 DI - - - GONE\npotential P dc+ A1:0 "
      "24\n",
      "1 A1:0 X1:1.int\nchannel A1:0 DI X1:1.int - - LEVEL\nchannel A1:2 DI - - - NEW\npotential P dc+ A1:0 "
      "12\n");
  ASSERT_EQ(found.channels.size(), 3u);
  EXPECT_EQ(found.channels[0].name, "A1:0");
  ASSERT_EQ(found.channels[0].fields.size(), 1u);
  EXPECT_EQ(found.channels[0].fields[0].name, "field");
  EXPECT_EQ(found.channels[0].fields[0].before, "X1:1.ext");
  EXPECT_EQ(found.channels[1].change, Change::gone);
  EXPECT_EQ(found.channels[2].change, Change::added);
  ASSERT_EQ(found.potentials.size(), 1u);
  EXPECT_EQ(found.potentials[0].fields.at(0).name, "volts");
  EXPECT_EQ(between("1 A1:0 X1:1.int\nchannel A1:0 DI X1:1.ext - - LEVEL\n",
                    "1 A1:0 X1:1.int\nchannel A1:3 DI X1:1.ext - - LEVEL\n")
                .channels.at(0)
                .change,
            Change::moved);
}

}  // namespace
}  // namespace ringtrue
