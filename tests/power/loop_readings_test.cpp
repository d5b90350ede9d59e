#include "ringtrue/power/loop_readings.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

constexpr const char* k_panel =
    "part G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
    "part F1 fuse 1 2\npart S1 contact-no 13 14\n1 G1:1 F1:1\n2 F1:2 S1:13\n3 S1:14 A1:0\n"
    "4 A1:M X2:1.int\n5 X2:1.ext G1:2\nchannel A1:0 DI S1:14 S1:13 A1:M\n"
    "6 F1:2 X1:1.int\n7 X3:1.int A1:1\nchannel A1:1 DI X3:1.ext X1:1.ext A1:M\n";

class LoopReadingsTest : public ::testing::Test {
 protected:
  LoopReadingsTest() : net_(netlist(k_panel)), graph_(net_) {}

  /// `R1=24 R3=0; R2 newer`, of the channel of that number.
  std::string sorted(const std::string& taken, std::size_t channel = 0, const Events& events = {}) {
    Readings rows = readings(taken);
    for (const auto& [row, note] : notes_) rows.text.set(ReadingText::note, row, note);
    const Comparison comparison = compare(graph_, rows, events).value();
    const InputLoop loop = input_loop(graph_, channel).value();
    const LoopReadings found = loop_readings(graph_, loop, rows, events, comparison);
    std::string text;
    for (const auto& [reading, volts] : found.taken)
      text += rows.name(reading) + "=" + std::to_string(static_cast<int>(volts.volts)) + " ";
    for (const auto& [reading, why] : found.not_taken)
      text += "; " + rows.name(reading) + " " + std::string(word(why));
    if (found.seen) text += " seen " + rows.name(*found.seen);
    return text;
  }

  static Events event(const std::string& time, EventKind kind, std::vector<std::string> points) {
    Events events;
    events.file = "events.csv";
    Event row;
    row.time = time, row.kind = kind, row.points = std::move(points), row.line = 2;
    events.rows.push_back(row);
    return events;
  }

  Netlist net_;
  ConductionGraph graph_;
  std::vector<std::pair<std::size_t, std::string>> notes_;
};

TEST_F(LoopReadingsTest, VoltsAtPointsOfTheLoopAreTakenInItsOrder) {
  EXPECT_EQ(sorted("S1:13 - 24V power=on\nG1:1 G1:2 24V power=on\nX1:1.int - 24V power=on\nG1:1 F1:1 beep\n"),
            "R2=24 R1=24 ");
}

TEST_F(LoopReadingsTest, TheNewestOfAPointCounts) {
  EXPECT_EQ(sorted("G1:1 - 0V power=on\nG1:1 - 24V power=on\n"), "R2=24 ; R1 newer");
  EXPECT_EQ(sorted("G1:1 - 24V power=on 2026-03-02T08:00:00Z\nG1:1 - 0V power=on 2026-03-02T07:00:00Z\n"),
            "R1=24 ; R2 newer")
      << "by time, not by row";
}

TEST_F(LoopReadingsTest, TheBlackLeadMustBeAtTheSupplysOwnMinus) {
  EXPECT_EQ(sorted("G1:1 X2:1.ext 24V power=on\n"), "; R1 other-minus");
}

TEST_F(LoopReadingsTest, WithoutASideNothingIsKnown) {
  EXPECT_EQ(sorted("X2:1 - 0V power=on;S1=operated\n"), "; R1 no-side");
}

TEST_F(LoopReadingsTest, WhatOpensTheLoopSpoilsIt) {
  EXPECT_EQ(sorted("S1:13 - 0V power=on;F1=out\n"), "; R1 opened");
}

TEST_F(LoopReadingsTest, NoVoltageBehindAnOpenContactSaysNothing) {
  EXPECT_EQ(sorted("S1:14 - 0V power=on\n"), "; R1 not-driven");
  EXPECT_EQ(sorted("S1:14 - 0V power=on;S1=operated\n"), "R1=0 ");
  EXPECT_EQ(sorted("A1:0 - 24V power=on\n"), "R1=24 ") << "something closed it";
  EXPECT_EQ(sorted("F1:2 - 0V power=on\n"), "R1=0 ") << "before it, it doesn't matter";
}

TEST_F(LoopReadingsTest, BehindADeviceInTheFieldAJumperOrTheNoteMustStand) {
  EXPECT_EQ(sorted("A1:1 - 0V power=on\n", 1), "; R1 not-driven");
  EXPECT_EQ(sorted("A1:1 - 0V power=on;X1:1.ext~X3:1.ext=jumpered\n", 1), "R1=0 ");
  notes_ = {{0, "dark A1:1"}};
  EXPECT_EQ(sorted("A1:M - 0V power=on\n", 1), "R1=0 ");
  EXPECT_EQ(sorted("A1:M - 0V power=on\n", 0), "; R1 not-driven") << "another input was driven";
}

TEST_F(LoopReadingsTest, ARepairOfTheLoopMakesAllItsVoltagesStale) {
  const std::string before = "G1:1 - 24V power=on 2026-03-02T07:00:00Z\n",
                    after = "F1:2 - 24V power=on 2026-03-02T09:00:00Z\n", untimed = "F1:1 - 24V power=on\n";
  const auto at_eight = [](EventKind kind, const std::string& clamp) {
    return event("2026-03-02T08:00:00Z", kind, {clamp});
  };
  EXPECT_EQ(sorted(before + after + untimed, 0, at_eight(EventKind::repair, "X2:1.ext")),
            "R2=24 ; R1 stale; R3 stale");
  EXPECT_EQ(sorted(before, 0, at_eight(EventKind::repair, "A1:1")), "R1=24 ");
  EXPECT_EQ(sorted(before, 0, at_eight(EventKind::repair, "X2:1")), "; R1 stale") << "either side";
  Events change = at_eight(EventKind::temporary_made, "F1:2");
  EXPECT_EQ(sorted(before, 0, change), "; R1 stale");
  change.rows.push_back(change.rows.front());
  change.rows.back().kind = EventKind::temporary_undone;
  EXPECT_EQ(sorted(before, 0, change), "R1=24 ");
}

TEST_F(LoopReadingsTest, VoltagesBeforeItWasLitAreOfAnotherDay) {
  EXPECT_EQ(sorted("G1:1 - 24V power=on\nA1:0 - lit power=on\nF1:1 - 24V power=on\nA1:0 - dark power=on\n"),
            "R3=24 ; R1 lit-since seen R4");
  EXPECT_EQ(sorted("G1:1 - 24V power=on\nA1:1 - lit power=on\n"), "R1=24 ") << "another input";
}

}  // namespace
}  // namespace ringtrue
