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

}  // namespace
}  // namespace ringtrue
