#include "ringtrue/revise/as_built.hpp"

#include <gtest/gtest.h>

#include "ringtrue/diagnose/diagnose.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

/// The changed rows as lines: table, line, name, what became of it, and each cell.
std::string rows_of(const AsBuilt& built) {
  std::string text;
  for (const AsBuiltRow& row : built.rows) {
    text += std::string(row.table) + ":" + std::to_string(row.place.line) + " " + row.name + " " +
            std::string(word(row.change));
    for (const ChangedField& field : row.fields)
      text += "; " + std::string(field.name) + " " + field.before + ">" + field.after;
    text += "\n";
  }
  return text;
}

/// A drawing with readings against it, and its likeliest explanations drawn.
struct Drawn {
  Drawn(const std::string& net_text, const std::string& readings_text)
      : net(netlist(net_text)), graph(net), taken(readings(readings_text)) {
    comparison = compare(graph, taken, {}).value();
    std::vector<std::vector<Fault>> decided;
    for (const Cluster& cluster : diagnose(graph, taken, comparison).clusters)
      decided.push_back(cluster.diagnoses.at(0).faults);
    built = as_built(graph, decided, taken, comparison);
  }
  /// This fault drawn instead.
  [[nodiscard]] Result<AsBuilt> with(const Fault& fault) const {
    const std::vector<Fault> decided[] = {{fault}};
    return as_built(graph, decided, taken, comparison);
  }
  [[nodiscard]] std::string rows() const { return built ? rows_of(*built) : to_text(built.error().front()); }

  Netlist net;
  ConductionGraph graph;
  Readings taken;
  Comparison comparison;
  Result<AsBuilt> built;
};

TEST(AsBuilt, AWireThatIsNotThereLosesItsRowWhereNothingIsLostWithIt) {
  const Drawn drawn("part X1:1 terminal\npart X1:2 terminal\n1 X1:1.int X1:2.int\n",
                    "X1:1.int X1:2.int open\n");
  EXPECT_EQ(drawn.rows(), "conductors:3 1 gone; wire 1>; from X1:1.int>; to X1:2.int>; kind wire>\n");
  EXPECT_EQ(drawn.built->netlist.conductors.size(), 0u);
}

TEST(AsBuilt, AWireThatAloneNamesItsPointsStaysAsSpareCores) {
  const Drawn drawn("1 X1:1 K1:A1\n", "X1:1.int K1:A1 open\n");
  EXPECT_EQ(drawn.rows(),
            "conductors:1 1 changed; to K1:A1>; kind wire>core\n"
            "conductors:0 1 new; wire >1; from >K1:A1; kind >core\n");
  ASSERT_EQ(drawn.built->netlist.conductors.size(), 2u);
  EXPECT_TRUE(drawn.built->netlist.conductors[0].is_spare());
  EXPECT_EQ(drawn.built->netlist.conductor_text.get(ConductorText::note, 1), "as built: does not conduct");
  EXPECT_EQ(drawn.built->netlist.conductor_text.get(ConductorText::note, 0),
            "as built: does not conduct; as built: to was K1:A1, kind was wire");
}

TEST(AsBuilt, AWireThatReadingsLiftStaysThere) {
  const Drawn drawn("part X1:1 terminal\npart X1:2 terminal\n1 X1:1.int X1:2.int\n",
                    "X1:1.int X1:2.int open\nX1:1.int X1:2.int open 1@X1:1.int=lifted\n");
  EXPECT_EQ(drawn.rows(), "conductors:3 1 changed; to X1:2.int>; kind wire>core\n");
  EXPECT_TRUE(drawn.built->no_longer_judged.empty());
}

TEST(AsBuilt, ThePointThatAMovedWireLeavesKeepsAPlaceOnTheDrawing) {
  const Drawn drawn("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n",
                    "X1:1.int A1:1 open\nX1:1.int A1:2 beep\nX1:2.int A1:2 beep\nX1:1.int A1:3 open\n");
  EXPECT_EQ(drawn.rows(),
            "conductors:1 1 changed; to A1:1>A1:2\n"
            "conductors:0 A1:1 new; from >A1:1; kind >core\n");
}

TEST(AsBuilt, TwoPointsThatAreJoinedGetABridge) {
  const Drawn drawn("part X1:1 terminal\npart X1:2 terminal\n", "X1:1.int X1:2.int beep\n");
  EXPECT_EQ(drawn.rows(), "conductors:0 X1:1.int-X1:2.int new; from >X1:1.int; to >X1:2.int; kind >bridge\n");
}

TEST(AsBuilt, AChangeoverOfTheWrongKindHasBothRowsChanged) {
  const Drawn drawn("part K1 coil A1 A2 400\npart K1 contact-no 11 14\npart K1 contact-nc 11 12\n",
                    "K1:11 K1:14 beep\nK1:11 K1:12 open\nK1:11 K1:12 beep K1=operated\n");
  EXPECT_EQ(drawn.rows(),
            "parts:2 K1:11-14 changed; kind contact-no>contact-nc\n"
            "parts:3 K1:11-12 changed; kind contact-nc>contact-no\n");
}

TEST(AsBuilt, ACoilGetsTheValueThatWasRead) {
  EXPECT_EQ(Drawn("part K1 coil A1 A2 400\n", "K1:A1 K1:A2 620\n").rows(),
            "parts:1 K1:A1-A2 changed; ohms 400>620\n");
}

TEST(AsBuilt, ACoilWhoseReadingsDoNotTellItsValueGetsNone) {
  EXPECT_EQ(Drawn("part K1 coil A1 A2 400\n1 X1:1 K1:A1\n", "K1:A1 K1:A2 620\nX1:1.int K1:A2 900\n").rows(),
            "parts:1 K1:A1-A2 changed; ohms 400>\n");
}

TEST(AsBuilt, ABadReadingChangesNoRowAndIsToBeWithdrawn) {
  const Drawn drawn("1 X1:1 K1:A1\n", "X1:1.int K1:A1 open\n");
  Fault bad;
  bad.kind = FaultKind::bad_reading;
  bad.reading = ReadingId{0};
  const auto built = drawn.with(bad);
  ASSERT_TRUE(built.has_value());
  EXPECT_EQ(rows_of(*built), "");
  EXPECT_EQ(built->to_withdraw, std::vector<ReadingId>{ReadingId{0}});
  const std::vector<Fault> twice[] = {{bad}, {bad}};
  EXPECT_EQ(as_built(drawn.graph, twice, drawn.taken, drawn.comparison)->to_withdraw, built->to_withdraw);
}

TEST(AsBuilt, APointThatTwoDecisionsLeaveIsOfTheFirst) {
  const Drawn drawn("part S1 contact-no 13 14\n1 S1:13 X1:1\n2 X1:2 X1:3\n", "");
  Fault moved, open;
  moved.kind = FaultKind::miswire, moved.element = ElementId{0}, moved.end = End::a;
  moved.p = point(drawn.net, "X1:2.int");
  open.element = drawn.graph.element_of_part(0);
  const std::vector<Fault> decided[] = {{moved}, {open}};
  const auto built = as_built(drawn.graph, decided, drawn.taken, drawn.comparison);
  ASSERT_TRUE(built.has_value());
  std::vector<std::pair<std::string, std::size_t>> added;
  for (const AsBuiltRow& row : built->rows)
    if (row.change == Change::added) added.emplace_back(row.name, row.decision);
  EXPECT_EQ(added, (std::vector<std::pair<std::string, std::size_t>>{{"S1:13", 0}, {"S1:14", 1}}));
}

TEST(AsBuilt, ATerminalThatDoesNotConductIsNoMatterOfTheDrawing) {
  for (const char* text : {"part X1:1 terminal\n", "1 X1:1.int X1:1.ext bridge\n"}) {
    const Drawn drawn(text, "");
    Fault open;
    open.element = ElementId{drawn.graph.element_count() - 1};
    const auto built = drawn.with(open);
    ASSERT_FALSE(built.has_value());
    EXPECT_EQ(
        to_text(built.error().front()),
        "no drawing shows that terminal X1:1 does not conduct between its sides: expected a repair of the "
        "panel, or somebody who accepts it as it is");
  }
}

TEST(AsBuilt, WhatIsAssumedOfAChannelHasNoRow) {
  const Drawn drawn("channel A1:0 DI - - A1:M\n", "");
  Fault open;
  open.element = ElementId{0};
  const auto built = drawn.with(open);
  ASSERT_FALSE(built.has_value());
  EXPECT_EQ(built.error().front().message.substr(0, 26), "the drawing has no row for");
}

TEST(AsBuilt, AContactThatReadingsOperateIsGoneAndTheyAreNotJudgedAnyMore) {
  const Drawn drawn("part S1 contact-no 13 14\n1 S1:13 X1:1\n2 S1:14 X1:2\n",
                    "S1:13 S1:14 open S1=operated\nS1:13 S1:14 open\n");
  Fault open;
  open.element = drawn.graph.element_of_part(0);
  const auto built = drawn.with(open);
  ASSERT_TRUE(built.has_value());
  EXPECT_EQ(rows_of(*built).substr(0, 22), "parts:1 S1:13-14 gone;");
  EXPECT_EQ(built->no_longer_judged, std::vector<ReadingId>{ReadingId{0}});
}

}  // namespace
}  // namespace ringtrue::testing
