#include "ringtrue/revise/retest.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

/// What becomes of the readings, a word each.
std::vector<std::string> validities(const std::string& before, const std::string& after,
                                    const std::string& lines, const Events& events = {}) {
  const Netlist old_net = testing::netlist(before), new_net = testing::netlist(after);
  const ConductionGraph old_graph(old_net), new_graph(new_net);
  const Readings readings = testing::readings(lines);
  const auto comparison = compare(old_graph, readings, events);
  if (!comparison) throw std::runtime_error(to_text(comparison.error().front()));
  const auto made = retest(old_graph, new_graph, difference(old_graph, new_graph), readings, *comparison, {});
  if (!made) throw std::runtime_error(to_text(made.error().front()));
  std::vector<std::string> words;
  for (const RetestedReading& one : made->readings) words.emplace_back(word(one.validity));
  return words;
}

using Words = std::vector<std::string>;

const std::string k_panel =
    "1 G1:+ X1:1.int\n2 X1:1.ext K1:A1\n3 K1:A2 G1:-\n4 K1:14 X1:2.int\npart K1 coil A1 A2 400\n"
    "part K1 contact-no 11 14\npart X1:1 terminal\npart X1:2 terminal\n";

TEST(Retest, AnOpenedClampMakesItsReadingsStale) {
  // A further wire on X1:1.int: the beep over wire 1 rests on that clamp, that over wire 4 doesn't.
  EXPECT_EQ(validities(k_panel, k_panel + "5 X1:1.int X1:3.int\n",
                       "G1:+ X1:1.int beep\nK1:14 X1:2.int beep\nX1:1.ext K1:A1 beep\n"),
            (Words{"clamp-touched", "valid", "valid"}));
}

TEST(Retest, AnOpenReadingNeedsBothNetsUntouched) {
  const std::string lines = "G1:+ K1:14 open\nK1:14 K1:11 open\n";
  EXPECT_EQ(validities(k_panel, k_panel + "5 X1:1.int X1:3.int\n", lines), (Words{"clamp-touched", "valid"}));
}

TEST(Retest, ARepairBeforeTheRevisionLeavesNothingToKeep) {
  Events events;
  Event repair;
  repair.time = "2026-03-02T09:00:00+01:00", repair.points = {"X1:1.int"};
  events.rows.push_back(repair);
  EXPECT_EQ(validities(k_panel, k_panel,
                       "G1:+ X1:1.int beep - 2026-03-02T08:00:00+01:00\n"
                       "G1:+ X1:1.int beep - 2026-03-02T10:00:00+01:00\n",
                       events),
            (Words{"did-not-count", "valid"}));
}

TEST(Retest, OhmsThroughACoilRestOnItsValue) {
  std::string other = k_panel;
  other.replace(other.find("400"), 3, "520");
  EXPECT_EQ(validities(k_panel, other, "K1:A1 K1:A2 400\nG1:+ X1:1.ext 0.1\n"),
            (Words{"clamp-touched", "valid"}));
}

TEST(Retest, OhmsStandThroughRenumbering) {
  std::string other = k_panel;
  other.replace(other.find("2 X1:1.ext"), 1, "22");
  EXPECT_EQ(validities(k_panel, other, "G1:+ G1:- 400\n"), Words{"valid"});
}

TEST(Retest, ASelectorThatRestsElsewhereShowsSomethingElse) {
  // A contact for position 0 is drawn now, so that the selector rests there; no clamp of the first is opened.
  const std::string first = "part S1 contact-no 1 2 - S1 1,2\n1 S1:1 X1:1.int\n";
  EXPECT_EQ(validities(first, first + "part S1 contact-no 3 4 - S1 0\n", "X1:1.int S1:2 beep\n"),
            Words{"prediction-changed"});
}

TEST(Retest, ASecondWireBesideTheFirstTakesItsProofAway) {
  const std::string wires = "1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n";
  // From K1 to K3 wire 2 is still alone, wire 1 no longer is; and their clamps are opened besides.
  EXPECT_EQ(validities(wires, wires + "3 K1:A1 K2:A1\n", "K2:A1 K3:A1 beep\nK1:A1 K2:A1 beep\n"),
            (Words{"clamp-touched", "clamp-touched"}));
  // A way round that opens no clamp on wire 1: its beep proves nothing more.
  const std::string longer = "1 X1:1.int X1:2.int\n2 X1:1.ext K1:1\n3 X1:2.ext K1:2\n";
  EXPECT_EQ(validities(longer, longer + "part K1 path 1 2\n", "X1:1.int X1:2.int beep\n"),
            Words{"proof-changed"});
}

TEST(Retest, APointThatIsGoneTakesItsReadingsAlong) {
  EXPECT_EQ(
      validities("1 K1:A1 K2:A1\n2 K3:1 K3:2\n", "1 K1:A1 K2:A1\n", "K3:1 K3:2 beep\nK1:A1 K2:A1 beep\n"),
      (Words{"no-longer-possible", "valid"}));
}

TEST(Retest, VoltsStandOnlyIfNothingButNumbersChanges) {
  const std::string lines = "G1:+ G1:- 24V power=on\n";
  std::string renumbered = k_panel;
  renumbered.replace(0, 1, "11");
  EXPECT_EQ(validities(k_panel, renumbered, lines), Words{"valid"});
  EXPECT_EQ(validities(k_panel, k_panel + "5 X1:2.ext X1:3.int\n", lines), Words{"not-predicted"});
}

}  // namespace
}  // namespace ringtrue
