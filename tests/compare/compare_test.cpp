#include "ringtrue/compare/compare.hpp"

#include <gtest/gtest.h>

#include <map>
#include <random>
#include <set>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// Standings of all readings as one text, such as "agrees disagrees".
std::string standings(const std::string& panel, const std::string& taken, const Events& events = {}) {
  const Netlist net = netlist(panel);
  const ConductionGraph graph(net);
  const Readings rows = readings(taken);
  const auto made = compare(graph, rows, events);
  if (!made) return to_text(made.error().front());
  std::string text;
  for (const Standing standing : made->standing)
    text += (text.empty() ? "" : " ") + std::string(word(standing));
  return text;
}

Events repair(const std::string& time, std::vector<std::string> points, EventKind kind = EventKind::repair) {
  Events events;
  events.file = "events.csv";
  Event event;
  event.time = time, event.kind = kind, event.points = std::move(points), event.line = 2;
  events.rows.push_back(event);
  return events;
}

constexpr const char* k_chain = "1 K1:A1 X1:1.int\n2 X1:1.int K2:A1\n3 K3:A1 K4:A1\n";

TEST(Compare, AReadingAtAnUnknownPointIsUnknownAndTheOthersAreJudged) {
  const Netlist net = netlist(k_chain);
  const ConductionGraph graph(net);
  const Readings rows = readings("K1:A1 X1:1.int beep\nK1:A7 X1:1.int beep\nK1:A1 K3:A1 beep\n");
  const Comparison made = compare(graph, rows, {}).value();
  EXPECT_EQ(made.agree, 1u);
  EXPECT_EQ(made.disagree, 1u);
  EXPECT_EQ(made.unknown, 1u);
  ASSERT_EQ(made.unknown_points.size(), 1u);
  EXPECT_EQ(to_text(made.unknown_points.front()),
            "readings.csv:2: from: the drawing has no such point: found \"K1:A7\", expected a point of the "
            "drawing; nearest: K1:A1");
}

TEST(Compare, OfManyReadingsThoseAreUnstableWhosePairWasReadBothWays) {
  constexpr unsigned k_points = 120, k_readings = 4000;
  std::string panel, taken;
  for (unsigned i = 0; i < k_points; ++i) panel += "- K" + std::to_string(i) + ":A1 - core\n";
  std::mt19937 random(1);
  std::map<std::set<unsigned>, std::set<bool>> read;
  std::vector<std::set<unsigned>> pairs;
  for (unsigned i = 0; i < k_readings; ++i) {
    const unsigned from = static_cast<unsigned>(random() % k_points);
    const unsigned to = (from + 1 + static_cast<unsigned>(random() % (k_points - 1))) % k_points;
    const bool beeps = random() % 8 == 0;
    taken +=
        "K" + std::to_string(from) + ":A1 K" + std::to_string(to) + (beeps ? ":A1 beep\n" : ":A1 open\n");
    read[pairs.emplace_back(std::set{from, to})].insert(beeps);
  }
  const Netlist net = netlist(panel);
  const ConductionGraph graph(net);
  const Comparison made = compare(graph, readings(taken), {}).value();
  EXPECT_GT(made.unstable, 100u);
  for (unsigned i = 0; i < k_readings; ++i)
    EXPECT_EQ(made.standing[i] == Standing::unstable, read[pairs[i]].size() == 2) << i;
}

TEST(Compare, ABareTerminalTakesItsBodyAsConducting) {
  EXPECT_EQ(standings(k_chain, "K1:A1 X1:1 beep\nX1:1 K1:A1 beep\nX1:1 K3:A1 open\n"),
            "agrees agrees agrees");
}

TEST(Compare, ABareSeparableTerminalIsRefused) {
  EXPECT_EQ(standings("part X1:1 disconnect\n1 K1:A1 X1:1.int\n", "K1:A1 X1:1 beep\n"),
            "readings.csv:1: to: X1:1 can be parted, so its side must be named: found \"X1:1\", expected "
            "X1:1.int or X1:1.ext");
}

TEST(Compare, ContradictingReadingsOfOnePairAreUnstable) {
  EXPECT_EQ(standings(k_chain, "K1:A1 K2:A1 beep\nK2:A1 K1:A1 open\nK3:A1 K4:A1 beep\nK3:A1 K4:A1 0.3\n"),
            "unstable unstable agrees agrees");
}

TEST(Compare, InsulationReadingsContradictEachOtherOnlyAcrossAMegohm) {
  const std::string at = "K1:A1 K3:A1 ", as = " - - insulation\n";
  const auto pair = [&](const std::string& one, const std::string& other) {
    return standings(k_chain, at + one + as + at + other + as);
  };
  EXPECT_EQ(pair("200M", "OL"), "agrees agrees");
  EXPECT_EQ(pair("200M", "open"), "agrees agrees");
  EXPECT_EQ(pair("200M", "5M"), "agrees agrees") << "what leaks is dry one day and damp another";
  EXPECT_EQ(pair("12k", "200M"), "unstable unstable");
  EXPECT_EQ(pair("12k", "OL"), "unstable unstable")
      << "12 kΩ is above any buzzer's threshold, and no insulation";
  EXPECT_EQ(pair("12k", "100k"), "unstable unstable");
}

TEST(Compare, AValueInOhmsContradictsOneAboveTheMetersRange) {
  const Netlist net = netlist(k_chain);
  const ConductionGraph graph(net);
  MeterSettings meter;
  meter.range = Ohms{1e6};
  const auto made = compare(graph, readings("K1:A1 K3:A1 OL\nK3:A1 K1:A1 100k\n"), {}, {}, meter).value();
  EXPECT_EQ(made.unstable, 2u);
}

TEST(Compare, ARepairMakesTouchedReadingsStale) {
  // The clamp X1:1.int lies on every path K1:A1 to K2:A1; K3 to K4 has nothing to do with it; the open
  // reading has a probe on its net; the last reading came after the repair.
  const std::string taken =
      "K1:A1 K2:A1 open - 2026-03-02T07:00:00Z\n"
      "K3:A1 K4:A1 beep - 2026-03-02T07:01:00Z\n"
      "K1:A1 K3:A1 open - 2026-03-02T07:02:00Z\n"
      "K1:A1 K2:A1 beep - 2026-03-02T09:00:00Z\n";
  EXPECT_EQ(standings(k_chain, taken, repair("2026-03-02T08:00:00Z", {"X1:1.int"})),
            "stale agrees stale agrees");
}

TEST(Compare, ABeepStaysValidWhereAnotherWayRemains) {
  // A ring: no element is on every path.
  const std::string ring = "1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n3 K3:A1 K1:A1\n";
  EXPECT_EQ(
      standings(ring, "K1:A1 K2:A1 beep - 2026-03-02T07:00:00Z\n", repair("2026-03-02T08:00:00Z", {"K2:A1"})),
      "agrees");
}

TEST(Compare, AReadingInOhmsGoesStaleWhereverItsCurrentFlows) {
  // Two coils over their common: a clamp on the common is on neither probe's net, but carries the current.
  const std::string coils = "part K1 coil A1 A2 360\npart K2 coil A1 A2 360\n1 K1:A2 K2:A2\n2 K3:A1 K4:A1\n";
  const std::string taken = "K1:A1 K2:A1 720 - 2026-03-02T07:00:00Z\n";
  EXPECT_EQ(standings(coils, taken, repair("2026-03-02T08:00:00Z", {"K2:A2"})), "stale");
  EXPECT_EQ(standings(coils, taken, repair("2026-03-02T08:00:00Z", {"K3:A1"})), "agrees");
}

TEST(Compare, OverADiodeExchangedLeadsAreAnotherReading) {
  EXPECT_EQ(standings("part V1 diode A K\n1 V1:A K1:A1\n", "K1:A1 V1:K beep\nV1:K K1:A1 open\n"),
            "either agrees")
      << "with red on the cathode the diode blocks: open for certain";
  EXPECT_EQ(standings("part V1 diode A K\n1 V1:A K1:A1\n", "K1:A1 V1:A beep\nV1:A K1:A1 open\n"),
            "unstable unstable")
      << "within one net the leads do not matter";
}

TEST(Compare, AnUndoneTemporaryChangeNoLongerCounts) {
  Events events = repair("2026-03-02T08:00:00Z", {"K1:A1"}, EventKind::temporary_made);
  const std::string taken = "K1:A1 K2:A1 beep - 2026-03-02T07:00:00Z\n";
  EXPECT_EQ(standings(k_chain, taken, events), "stale");
  events.rows.push_back(events.rows.front());
  events.rows.back().kind = EventKind::temporary_undone;
  events.rows.back().time = "2026-03-02T08:30:00Z";
  EXPECT_EQ(standings(k_chain, taken, events), "agrees");
}

TEST(Compare, ContinuityWithPowerOnIsRefused) {
  EXPECT_EQ(standings(k_chain, "K1:A1 K2:A1 beep power=on\n"),
            "readings.csv:1: conditions: a continuity reading cannot be taken with power on: found "
            "\"power=on\", expected power off for beep, open and ohms");
}

TEST(Compare, AnImpossibleConditionNamesTheLine) {
  EXPECT_EQ(standings(k_chain, "K1:A1 K2:A1 beep\nK1:A1 K2:A1 beep K9=operated\n").substr(0, 62),
            "readings.csv:2: conditions: the drawing has no such part: foun");
}

TEST(Compare, ALooseEndIsReadWhereItIsLifted) {
  EXPECT_EQ(
      standings(k_chain, "1@X1:1.int K1:A1 beep 1@X1:1.int=lifted\nK1:A1 K2:A1 open 1@X1:1.int=lifted\n"),
      "agrees agrees");
  EXPECT_EQ(standings(k_chain, "1@X1:1.int K1:A1 beep\n").substr(0, 60),
            "readings.csv:1: from: this conductor end is not lifted under");
}

}  // namespace
}  // namespace ringtrue
