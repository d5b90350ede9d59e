#include "ringtrue/diagnose/diagnose.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <utility>

#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

class Diagnosing : public ::testing::Test {
 protected:
  void run(const std::string& panel, const std::string& taken, const DiagnoseOptions& options = {}) {
    net_ = netlist(panel);
    graph_ = std::make_unique<ConductionGraph>(net_);
    const Readings rows = readings(taken);
    comparison_ = compare(*graph_, rows, {}).value();
    findings_ = diagnose(*graph_, rows, comparison_, options);
  }
  /// Rank-1 diagnoses of every cluster, `;` between clusters, `+` between faults.
  std::string first() const {
    std::string text;
    for (const Cluster& cluster : findings_.clusters) {
      if (!text.empty()) text += "; ";
      if (cluster.diagnoses.empty())
        text += "nothing";
      else
        for (const Fault& fault : cluster.diagnoses.front().faults)
          text += (text.empty() || text.back() == ' ' ? "" : " + ") + text_of(fault, *graph_);
    }
    return text;
  }
  bool is_proven(const std::string& element) const {
    for (std::uint32_t e = 0; e < graph_->element_count(); ++e)
      if (graph_->element_name(ElementId{e}) == element) return findings_.proven[e] != 0;
    ADD_FAILURE() << "no element " << element;
    return false;
  }
  Netlist net_;
  std::unique_ptr<ConductionGraph> graph_;
  Comparison comparison_;
  Findings findings_;
};

constexpr const char* k_strip =
    "1 K1:A1 X1:1.int\n"
    "2 K2:A1 X1:2.int\n"
    "3 K3:A1 X1:3.int\n"
    "4 K4:A1 X1:4.int\n";

TEST_F(Diagnosing, OneTerminalFurtherExchangedAndMissingAreThreeDifferentFindings) {
  run(k_strip,
      "K1:A1 X1:1.int open\nK1:A1 X1:2.int beep\nK1:A1 K2:A1 beep\nK2:A1 X1:2.int beep\nK3:A1 X1:3.int "
      "beep\nK4:A1 X1:4.int beep\n");
  EXPECT_EQ(first(), "miswire 1.b X1:2.int");
  run(k_strip,
      "K1:A1 X1:1.int open\nK1:A1 X1:2.int beep\nK2:A1 X1:2.int open\nK2:A1 X1:1.int beep\nK3:A1 X1:3.int "
      "beep\nK4:A1 X1:4.int beep\n");
  EXPECT_EQ(first(), "swap 1 2.b.b");
  run(k_strip,
      "K1:A1 X1:1.int open\nK1:A1 X1:2.int open\nX1:1.int K2:A1 open\nK2:A1 X1:2.int beep\nK3:A1 X1:3.int "
      "beep\nK4:A1 X1:4.int beep\n");
  EXPECT_EQ(first(), "open 1");
}

TEST_F(Diagnosing, AnOpenIsAnOpenOnceTheNeighboursAreReadOpen) {
  run(k_strip, "K1:A1 X1:1.int open\nK1:A1 X1:2.int open\nX1:1.int K2:A1 open\nK2:A1 X1:2.int beep\n");
  EXPECT_EQ(first(), "open 1");
}

TEST_F(Diagnosing, ABridgeTooManyAndABridgeTooFew) {
  run("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n- X5:3.int X5:4.int bridge\n- X5:4.int X5:5.int bridge\n",
      "X1:1.int X1:2.int beep\nK1:A1 K2:A1 beep\nK1:A1 X1:1.int beep\nK2:A1 X1:2.int beep\nX5:3.int X5:4.int "
      "beep\n"
      "X5:4.int X5:5.int open\nX5:3.int X5:5.int open\nX5:5.int X1:1.int open\nX5:3.int X1:1.int open\n");
  EXPECT_EQ(first(), "extra-bridge X1:1.int X1:2.int; missing-bridge X5:4-X5:5");
}

TEST_F(Diagnosing, AShortIsShownAtTheNearestPointsOfTheTwoNets) {
  run("1 K1:A1 X1:2.int\n2 K2:A1 X1:4.int\n",
      "K1:A1 X1:2.int beep\nK2:A1 X1:4.int beep\nK1:A1 K2:A1 beep\nX1:2.int X1:4.int beep\n");
  EXPECT_EQ(first(), "short X1:2.int X1:4.int");
}

TEST_F(Diagnosing, AChangeoverWithItsContactsExchangedIsOneFault) {
  run("part K1 contact-no 11 14\npart K1 contact-nc 11 12\n",
      "K1:11 K1:12 open\nK1:11 K1:14 beep\nK1:11 K1:12 beep K1=operated\nK1:11 K1:14 open K1=operated\n");
  EXPECT_EQ(first(), "wrong-contact K1:11-14 K1:11-12");
}

TEST_F(Diagnosing, TwoFaultsInOneNetAreTwoFindings) {
  // A chain read across and in parts: both ends of it are open. Either explains the reading across.
  run("1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n3 K3:A1 K4:A1\n4 K5:A1 K6:A1\n",
      "K1:A1 K4:A1 open\nK1:A1 K2:A1 open\nK2:A1 K3:A1 beep\nK3:A1 K4:A1 open\nK5:A1 K1:A1 open\nK5:A1 K2:A1 "
      "open\nK5:A1 K4:A1 open\nK5:A1 K6:A1 beep\n");
  EXPECT_EQ(first(), "open 1; open 3");
}

TEST_F(Diagnosing, FaultsInDifferentPlacesAreExplainedApart) {
  run(k_strip,
      "K1:A1 X1:1.int open\nK1:A1 X1:2.int open\nX1:1.int K2:A1 open\nK2:A1 X1:2.int beep\nK3:A1 K4:A1 "
      "beep\nK3:A1 X1:3.int beep\nK4:A1 X1:4.int beep\nX1:3.int X1:4.int beep\n");
  EXPECT_EQ(first(), "open 1; extra-bridge X1:3.int X1:4.int");
}

TEST_F(Diagnosing, AConductorInARingIsNotProvenByABeep) {
  run("1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n3 K3:A1 K1:A1\n4 K1:A1 X1:1.int\n",
      "K1:A1 K2:A1 beep\nK2:A1 K3:A1 beep\nK3:A1 K1:A1 beep\nK2:A1 X1:1.int beep\n");
  EXPECT_TRUE(findings_.clusters.empty());
  EXPECT_FALSE(is_proven("1"));
  EXPECT_TRUE(is_proven("4"));
}

TEST_F(Diagnosing, ParallelConductorsProveNeither) {
  run("1 K1:A1 K2:A1\n2 K1:A1 K2:A1\n", "K1:A1 K2:A1 beep\n");
  EXPECT_FALSE(is_proven("1"));
  EXPECT_FALSE(is_proven("2"));
}

TEST_F(Diagnosing, ABareTerminalNeverProvesItsBody) {
  run("1 K1:A1 X1:1.int\n2 X1:1.ext K2:A1\n", "K1:A1 X1:1 beep\nX1:1 K2:A1 beep\n");
  EXPECT_TRUE(is_proven("1"));
  EXPECT_TRUE(is_proven("2"));
  EXPECT_FALSE(is_proven("X1:1"));
}

TEST_F(Diagnosing, ABeepThatALoadCouldShowProvesNothing) {
  run("part K1 coil A1 A2\n1 K1:A1 S1:13\n2 K1:A2 S1:14\n3 S1:13 S1:14\n", "S1:13 S1:14 beep\n");
  EXPECT_FALSE(is_proven("3")) << "the unknown coil may beep as well";
  run("part K1 coil A1 A2 400\n1 K1:A1 S1:13\n2 K1:A2 S1:14\n3 S1:13 S1:14\n", "S1:13 S1:14 beep\n");
  EXPECT_TRUE(is_proven("3"));
}

TEST_F(Diagnosing, AnEndLiftedOutOfTheRingProvesTheRing) {
  run("1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n3 K3:A1 K1:A1\n",
      "3@K1:A1 K3:A1 beep 3@K1:A1=lifted\nK1:A1 K2:A1 beep 3@K1:A1=lifted\nK2:A1 K3:A1 beep "
      "3@K1:A1=lifted\n");
  for (const char* wire : {"1", "2", "3"}) EXPECT_TRUE(is_proven(wire)) << wire;
}

TEST_F(Diagnosing, WhatNoFaultsExplainIsSaidToBeUnexplained) {
  // No joint of two bare pins has 250 ohms; one of the readings may be bad, but not both.
  DiagnoseOptions options;
  options.joint = true, options.max_faults = 1;
  run("part K1 contact-no 13 14\npart K2 contact-no 13 14\n", "K1:13 K2:13 250\nK1:14 K2:14 251\n", options);
  ASSERT_EQ(findings_.clusters.size(), 1u);
  EXPECT_TRUE(findings_.clusters.front().diagnoses.empty());
  EXPECT_EQ(findings_.clusters.front().contradiction.size(), 2u);
}

TEST_F(Diagnosing, TheReadingsThatContradictEachOtherAreNamed) {
  // With one fault at most, wire 1 can't be open and bridged to 3 and 4: the second, third and fourth reading
  // each contradict the first, and two readings are enough.
  DiagnoseOptions options;
  options.joint = true, options.max_faults = 1;
  run(k_strip,
      "K1:A1 X1:1.int open\nK3:A1 K4:A1 beep\nK3:A1 X1:4.int beep\nK4:A1 X1:3.int beep\nK2:A1 X1:2.int "
      "beep\n",
      options);
  ASSERT_EQ(findings_.clusters.size(), 1u);
  const Cluster& cluster = findings_.clusters.front();
  EXPECT_TRUE(cluster.diagnoses.empty());
  ASSERT_EQ(cluster.contradiction.size(), 2u);
  EXPECT_EQ(cluster.contradiction.front(), ReadingId{0});
}

TEST_F(Diagnosing, ExplanationsThatDoNotHoldTogetherAreSaidToConflict) {
  const std::string panel = "1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n3 K3:A1 X1:3.int\n";
  const std::string taken = "X1:1.int X1:2.int beep\nX1:2.int X1:3.int beep\nX1:1.int X1:3.int open\n";
  DiagnoseOptions options;
  options.max_faults = 1;
  run(panel, taken, options);
  EXPECT_EQ(first(), "extra-bridge X1:1.int X1:2.int; extra-bridge X1:2.int X1:3.int");
  ASSERT_EQ(findings_.conflicts.size(), 1u);
  EXPECT_EQ(findings_.conflicts.front().clusters, (std::vector<std::size_t>{0, 1}));
  EXPECT_EQ(findings_.conflicts.front().reading, ReadingId{2});
  // With two faults allowed one of the beeps is explained otherwise.
  run(panel, taken);
  EXPECT_TRUE(findings_.conflicts.empty());
}

TEST_F(Diagnosing, JointlyAllDisagreementsAreOneCluster) {
  const std::string taken = "K1:A1 X1:1.int open\nK4:A1 X1:4.int open\nK1:A1 X1:4.int open\n";
  DiagnoseOptions options;
  options.priors.swap_elsewhere = 1e-7;  // on so small a panel an exchange is likelier than two opens
  run(k_strip, taken, options);
  EXPECT_EQ(first(), "open 1; open 4");
  options.joint = true;
  run(k_strip, taken, options);
  EXPECT_EQ(first(), "open 1 + open 4");
}

TEST_F(Diagnosing, ASearchCutShortIsNotSaidToBeComplete) {
  const std::string taken = "K1:A1 X1:1.int open\nK4:A1 X1:4.int open\n";
  DiagnoseOptions options;
  options.joint = true;
  run(k_strip, taken, options);
  EXPECT_EQ(findings_.clusters.front().complete_up_to, options.max_faults);
  options.max_sets = 1;
  run(k_strip, taken, options);
  EXPECT_EQ(findings_.clusters.front().complete_up_to, 0u);
}

TEST_F(Diagnosing, MorePlacesThanCanBeTriedAreSaidToBeThere) {
  // Two rails of twenty terminals each, in one row with others between them.
  std::string panel, taken = "X1:1.int X2:1.int beep\n";
  for (int i = 1; i < 20; ++i)
    for (const std::string strip : {"X1", "X2"})
      panel += strip + std::to_string(i) + " " + strip + ":" + std::to_string(i) + ".int " + strip + ":" +
               std::to_string(i + 1) + ".int\n";
  run(panel, taken);
  EXPECT_FALSE(findings_.clusters.at(0).too_many);
  const std::size_t all = findings_.clusters[0].diagnoses.size();
  DiagnoseOptions options;
  options.max_sets = all / 2;
  run(panel, taken, options);
  EXPECT_TRUE(findings_.clusters.at(0).too_many);
  EXPECT_TRUE(findings_.clusters[0].cut_short);
  EXPECT_EQ(first(), "bad-reading 0");
  EXPECT_EQ(findings_.clusters[0].complete_up_to, options.max_faults);
}

TEST_F(Diagnosing, NoBeepThroughALoadOfFewOhmsIsABreak) {
  // 18 to 22 ohms and two wires: a beep for certain.
  run("part K1 coil A1 A2 20\n1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n", "X1:1.int X1:2.int open\n");
  ASSERT_EQ(findings_.clusters.size(), 1u);
  std::set<std::string> named;
  for (const Diagnosis& diagnosis : findings_.clusters.front().diagnoses)
    for (const Fault& fault : diagnosis.faults) named.insert(text_of(fault, *graph_));
  for (const char* fault : {"open 1", "open 2", "open K1:A1-A2", "wrong-value K1:A1-A2"})
    EXPECT_EQ(named.count(fault), 1u) << fault;
}

TEST_F(Diagnosing, AValueSlightlyTooHighOnCopperIsABadJointToo) {
  run("1 K1:A1 K2:A1\n", "K1:A1 K2:A1 1.5\n");
  EXPECT_EQ(first(), "wrong-value 1");
}

TEST_F(Diagnosing, AHighValueOnCopperIsABadJoint) {
  run("1 K1:A1 K2:A1\n2 K2:A1 K3:A1\n", "K1:A1 K2:A1 12\nK2:A1 K3:A1 0.2\n");
  EXPECT_EQ(first(), "wrong-value 1");
}

TEST_F(Diagnosing, ACoilOfAnotherVoltageIsAWrongValue) {
  run("part K1 coil A1 A2 160\npart K2 coil A1 A2 160\n1 K1:A2 K2:A2\n2 K1:A1 X1:1.int\n3 K2:A1 X1:2.int\n",
      "K1:A1 K1:A2 40\nK2:A1 K2:A2 162\nX1:1.int K1:A1 beep\nX1:2.int K2:A1 beep\n");
  EXPECT_EQ(first(), "wrong-value K1:A1-A2");
}

TEST_F(Diagnosing, TwoCoilsAtHalfTheirValueAreJoined) {
  run("part K1 coil A1 A2 160\npart K2 coil A1 A2 160\n1 K1:A2 K2:A2\n2 K1:A1 X1:1.int\n3 K2:A1 X1:2.int\n",
      "K1:A1 K1:A2 80\nK2:A1 K2:A2 80\nX1:1.int K1:A1 beep\nX1:2.int K2:A1 beep\n");
  ASSERT_EQ(findings_.clusters.size(), 1u);
  EXPECT_EQ(first(), "extra-bridge X1:1.int X1:2.int");
  const Diagnosis& likeliest = findings_.clusters.front().diagnoses.front();
  ASSERT_EQ(likeliest.in_ohms.size(), 2u);
  EXPECT_EQ(likeliest.in_ohms.front().loads.size(), 2u) << "both coils, each a way of its own";
  EXPECT_NEAR(likeliest.in_ohms.front().ohms.lo.value, 72, 1e-6);
}

TEST_F(Diagnosing, AValueFarAboveACoilIsTheCoilsIfItsConductorsBeep) {
  run("part K1 coil A1 A2 160\n1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\n",
      "X1:1.int X1:2.int 5k\nX1:1.int K1:A1 beep\nX1:2.int K1:A2 beep\n");
  EXPECT_EQ(first(), "wrong-value K1:A1-A2");
}

TEST_F(Diagnosing, OneBadReadingAmongFiveHundredGoodOnesIsFoundToBeThat) {
  // A strip of 100 wires, each read end to end and through its terminal, and against its neighbour on both
  // sides. Then one of them, another each time, says the opposite.
  std::string panel;
  std::vector<std::string> taken;
  constexpr int k_wires = 100;
  for (int i = 1; i <= k_wires; ++i) {
    const std::string n = std::to_string(i), next = std::to_string(i % k_wires + 1);
    panel += n + " K" + n + ":A1 X1:" + n + ".int\npart X1:" + n + " terminal\n";
    taken.push_back("K" + n + ":A1 X1:" + n + ".int beep");
    taken.push_back("K" + n + ":A1 X1:" + n + ".ext beep");
    taken.push_back("X1:" + n + ".int X1:" + n + ".ext beep");
    taken.push_back("K" + n + ":A1 X1:" + next + ".int open");
    taken.push_back("X1:" + n + ".ext X1:" + next + ".ext open");
  }
  ASSERT_EQ(taken.size(), 500u);
  for (std::size_t bad = 0; bad < taken.size(); bad += 41) {
    std::string all;
    for (std::size_t i = 0; i < taken.size(); ++i) {
      std::string line = taken[i];
      if (i == bad) {
        const bool beeped = line.find("beep") != std::string::npos;
        line = line.substr(0, line.rfind(' ')) + (beeped ? " open" : " beep");
      }
      all += line + "\n";
    }
    run(panel, all);
    EXPECT_EQ(first(), "bad-reading " + std::to_string(bad)) << taken[bad];
  }
}

TEST_F(Diagnosing, ShiftsAtBothEndsOfTheSameWiresAreFoundTogether) {
  // Ten wires from a module to a strip. Wires 3 to 6 land one pin too low, wires 5 to 7 one terminal too
  // high.
  constexpr int k_wires = 10;
  std::string panel;
  std::vector<std::pair<int, int>> built;  // pin and terminal
  for (int i = 1; i <= k_wires; ++i) {
    const std::string n = std::to_string(i);
    panel += n + " A1:" + n + " X1:" + n + ".int\n";
    built.emplace_back(i >= 3 && i <= 6 ? i - 1 : i, i >= 5 && i <= 7 ? i + 1 : i);
  }
  const auto is_joined = [&](int pin, int terminal) {
    std::set<int> pins{pin}, terminals;
    for (std::size_t turn = 0; turn < built.size(); ++turn)
      for (const auto& [one, other] : built)
        if (pins.count(one) != 0 || terminals.count(other) != 0) pins.insert(one), terminals.insert(other);
    return terminals.count(terminal) != 0;
  };
  std::string taken;
  for (int pin = 1; pin <= k_wires; ++pin)
    for (int terminal = std::max(1, pin - 2); terminal <= std::min(k_wires, pin + 2); ++terminal)
      taken += "A1:" + std::to_string(pin) + " X1:" + std::to_string(terminal) + ".int " +
               (is_joined(pin, terminal) ? "beep" : "open") + "\n";
  run(panel, taken);
  std::multiset<std::string> named;
  for (const Cluster& cluster : findings_.clusters)
    for (const Fault& fault : cluster.diagnoses.front().faults) named.insert(text_of(fault, *graph_));
  EXPECT_EQ(named.size(), 2u) << first();
  for (const std::string& fault : named) EXPECT_EQ(fault.substr(0, 5), "shift") << first();
}

TEST_F(Diagnosing, TheOrderOfRowsChangesNothing) {
  run(k_strip, "K1:A1 X1:1.int open\nK1:A1 X1:2.int beep\nK1:A1 K2:A1 beep\nK2:A1 X1:2.int beep\n");
  const std::string before = first();
  const double cost = findings_.clusters.front().diagnoses.front().cost;
  run(k_strip, "K2:A1 X1:2.int beep\nK1:A1 K2:A1 beep\nX1:2.int K1:A1 beep\nX1:1.int K1:A1 open\n");
  EXPECT_EQ(first(), before);
  EXPECT_DOUBLE_EQ(findings_.clusters.front().diagnoses.front().cost, cost);
}

}  // namespace
}  // namespace ringtrue
