#include "ringtrue/diagnose/next.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "diagnose/prediction.hpp"
#include "diagnose/remedies.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

using ::testing::ElementsAre;

class NextReadings : public ::testing::Test {
 protected:
  void panel(const std::string& text) {
    net_ = netlist(text);
    graph_ = std::make_unique<ConductionGraph>(net_);
  }

  std::vector<NextReading> next_of(const std::string& text) {
    readings_ = readings(text);
    comparison_ = compare(*graph_, readings_, {}).value();
    findings_ = diagnose(*graph_, readings_, comparison_);
    return next_readings(*graph_, readings_, comparison_, findings_);
  }

  /// `X1:1.int X1:2.int K1=operated`
  std::string where(const NextReading& next) const {
    std::string text = net_.points.name(next.from) + " " + net_.points.name(next.to);
    if (!next.conditions.empty()) text += " " + next.conditions;
    return text + (next.in_ohms ? " ohms" : "");
  }

  std::vector<FaultKind> kinds_left(const NextOutcome& outcome) const {
    std::vector<FaultKind> kinds;
    for (const NextOutcome::Left& left : outcome.left)
      kinds.push_back(findings_.clusters[0].diagnoses[left.diagnosis].faults.front().kind);
    return kinds;
  }

  Netlist net_;
  std::unique_ptr<ConductionGraph> graph_;
  Readings readings_;
  Comparison comparison_;
  Findings findings_;
};

TEST_F(NextReadings, NothingToFindOutWhereNothingDisagrees) {
  panel("1 X1:1.int K1:A1\n");
  EXPECT_TRUE(next_of("X1:1.int K1:A1 beep\n").empty());
}

TEST_F(NextReadings, AnOpenAndAMisreadingAreToldApartByReadingAgain) {
  panel("1 A1:1 X1:9.int\n");
  const auto next = next_of("A1:1 X1:9.int open\n");
  ASSERT_EQ(next.size(), 1u);
  ASSERT_EQ(next[0].state, NextState::reading);
  EXPECT_EQ(next[0].again, ReadingId{0});
  EXPECT_EQ(where(next[0]), "A1:1 X1:9.int");
  ASSERT_EQ(next[0].outcomes.size(), 2u);
  EXPECT_TRUE(next[0].outcomes[0].beeps);
  EXPECT_THAT(kinds_left(next[0].outcomes[0]), ElementsAre(FaultKind::bad_reading));
  EXPECT_THAT(kinds_left(next[0].outcomes[1]), ElementsAre(FaultKind::open));
  EXPECT_NEAR(next[0].bits, next[0].bits_open, 1e-12);
  EXPECT_NEAR(next[0].outcomes[0].probability + next[0].outcomes[1].probability, 1, 1e-12);
}

TEST_F(NextReadings, ALandingIsToldByABeepThatOnlyItMakes) {
  panel("1 A1:1 X1:1.int\n2 A1:2 X1:2.int\n3 A1:9 X1:3.int\n");
  const auto next = next_of("A1:1 X1:1.int open\nX1:1.int A1:1 open\nA1:2 X1:2.int beep\n");
  ASSERT_EQ(next[0].state, NextState::reading);
  EXPECT_EQ(where(next[0]), "X1:1.int X1:2.int");
  EXPECT_TRUE(next[0].outcomes[0].beeps);
  EXPECT_THAT(kinds_left(next[0].outcomes[0]), ElementsAre(FaultKind::miswire));
  EXPECT_EQ(kinds_left(next[0].outcomes[1]).front(), FaultKind::open);
}

// Both landings are on one net as long as the fuse is in.
TEST_F(NextReadings, WhatNothingAtRestPartsIsPartedWithAFuseOut) {
  panel("1 A1:1 X2:1.int\n2 A1:5 X1:1.int\n3 A2:5 X1:1.ext\npart X1:1 fuse int ext\n");
  const auto next = next_of(
      "A1:1 X2:1.int open\nX2:1.int A1:1 open\nA1:1 A1:5 beep\nA1:5 A1:1 beep\nX2:1.int X1:1.int open\n"
      "X2:1.int X1:1.ext open\nA2:5 X1:1.ext beep\n");
  ASSERT_EQ(next.size(), 1u);
  ASSERT_EQ(next[0].state, NextState::reading);
  EXPECT_EQ(next[0].conditions, "X1:1=out") << where(next[0]);
}

TEST_F(NextReadings, AWrongValueIsReadAgain) {
  panel("part K1 coil A1 A2 470\n1 A1:1 K1:A1\n2 A1:9 K1:A2\n");
  const auto next = next_of("K1:A1 K1:A2 900\n");
  ASSERT_EQ(next[0].state, NextState::reading);
  EXPECT_EQ(where(next[0]), "K1:A1 K1:A2 ohms") << "a buzzer is silent whether the coil has 470 or 900 ohms";
  EXPECT_EQ(next[0].again, ReadingId{0});
  ASSERT_EQ(next[0].outcomes.size(), 2u);
  EXPECT_TRUE(next[0].outcomes[0].ohms.contains(Ohms{470}));
  EXPECT_THAT(kinds_left(next[0].outcomes[0]), ElementsAre(FaultKind::bad_reading));
  EXPECT_TRUE(next[0].outcomes[1].ohms.contains(Ohms{900}));
  EXPECT_THAT(kinds_left(next[0].outcomes[1]), ElementsAre(FaultKind::wrong_value));
}

TEST_F(NextReadings, AReadingTakenIsNotProposedAgainForNothing) {
  panel("1 A1:1 X1:9.int\n");
  const auto first = next_of("A1:1 X1:9.int open\n");
  const auto second = next_of("A1:1 X1:9.int open\nA1:1 X1:9.int open\n");
  EXPECT_EQ(first[0].state, NextState::reading);
  EXPECT_TRUE(second[0].state == NextState::one_explanation || second[0].bits < 0.1) << second[0].bits;
}

TEST_F(NextReadings, OpenAndBadJointAreOneRemedyAndSoAreTheSidesOfATerminal) {
  panel("part X1:1 fuse int ext\npart X1:2 fuse int ext\n1 A1:1 X1:1.int\n2 A1:2 X1:2.int\n");
  const auto faults = [&](FaultKind kind, const std::string& found) {
    Diagnosis diagnosis;
    Fault fault;
    fault.kind = kind;
    fault.element = ElementId{0};
    if (!found.empty()) fault.p = point(net_, found);
    diagnosis.faults = {fault};
    return diagnosis;
  };
  const std::vector<Diagnosis> diagnoses = {
      faults(FaultKind::open, ""), faults(FaultKind::wrong_value, ""), faults(FaultKind::miswire, "X1:2.int"),
      faults(FaultKind::miswire, "X1:2.ext"), faults(FaultKind::miswire, "A1:2")};
  EXPECT_THAT(remedies_of(diagnoses, *graph_), ElementsAre(0, 0, 1, 1, 2));
}

TEST(RangesBetween, DisjointIntervalsShareNone) {
  const auto interval = [](double lo, double hi) { return OhmInterval{Ohms{lo}, Ohms{hi}}; };
  EXPECT_THAT(ranges_between({interval(0, 1), interval(2, 3)}), ElementsAre(interval(0, 1), interval(2, 3)));
  EXPECT_EQ(ranges_between({interval(0, 2), interval(1, 3)}).size(), 1u);
  // The first and the last are apart although the middle one meets both.
  const auto three = ranges_between({interval(0, 2), interval(1, 4), interval(3, 5)});
  ASSERT_EQ(three.size(), 2u);
  EXPECT_EQ(three[0].lo, Ohms{0});
  EXPECT_LT(three[0].hi, Ohms{3});
  EXPECT_EQ(three[1], interval(3, 5));
  const auto with_open = ranges_between({interval(0, 9), k_open_interval});
  ASSERT_EQ(with_open.size(), 2u);
  EXPECT_TRUE(with_open[1].is_open());
  EXPECT_EQ(with_open[0], interval(0, 9));
}

TEST(ShownOhms, IsTheOtherWayRoundOfCircuitOhms) {
  for (const bool stated : {false, true}) {
    MeterSettings meter;
    if (stated) meter.lead_ohms = Ohms{0.3}, meter.accuracy = 0.01;
    for (double shown = 0.6; shown < 1e6; shown *= 1.7) {
      const OhmInterval circuit = circuit_ohms(shown, meter);
      for (const Ohms one : {circuit.lo, circuit.hi}) {
        const OhmInterval again = shown_ohms({one, one}, meter);
        EXPECT_LE(again.lo.value, shown * (1 + 1e-9) + 1e-9) << shown;
        EXPECT_GE(again.hi.value, shown * (1 - 1e-9) - 1e-9) << shown;
      }
    }
  }
  MeterSettings meter;
  meter.range = Ohms{1e6};
  EXPECT_TRUE(shown_ohms({Ohms{2e6}, Ohms{3e6}}, meter).is_open());
  EXPECT_TRUE(shown_ohms(k_open_interval, meter).is_open());
}

}  // namespace
}  // namespace ringtrue::testing
