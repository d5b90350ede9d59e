#include "ringtrue/diagnose/decided.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

constexpr const char* k_readings =
    "X1:1.int A1:1 open\nX1:2.int A1:2 open\nX1:1.int A1:2 beep\nX1:2.int A1:1 beep\nX1:3.int A1:3 open\n";

struct Panel {
  explicit Panel(const std::string& text) : net(netlist(text)), graph(net), taken(readings(k_readings)) {
    comparison = compare(graph, taken, {}).value();
    findings = diagnose(graph, taken, comparison);
  }
  [[nodiscard]] std::string name(std::size_t cluster) const {
    return finding_name(findings.clusters.at(cluster).diagnoses.at(0).faults, graph, taken);
  }
  [[nodiscard]] std::string names(std::size_t cluster) const {
    std::string all;
    for (const ReadingId reading : findings.clusters.at(cluster).readings)
      all += (all.empty() ? "" : "; ") + taken.name(reading);
    return all;
  }
  [[nodiscard]] DecidedFindings decided(const Decisions& decisions) const {
    return decided_findings(decisions, findings, graph, taken);
  }
  Netlist net;
  ConductionGraph graph;
  Readings taken;
  Comparison comparison;
  Findings findings;
};

Decisions decisions(std::initializer_list<std::pair<std::string, DecisionKind>> all) {
  Decisions made;
  for (const auto& [finding, kind] : all) {
    Decision one;
    one.finding = finding, one.decision = kind;
    made.rows.push_back(one);
  }
  return made;
}

TEST(Decided, AFindingKeepsItsNameWhateverTheOrderOfRowsAndEnds) {
  const Panel one("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n"),
      other("3 A1:3 X1:3\n2 A1:2 X1:2\n1 A1:1 X1:1\n");
  ASSERT_EQ(one.findings.clusters.size(), 2u);
  EXPECT_EQ(one.name(1), "open wire 3 (A1:3, X1:3.int)");
  EXPECT_EQ(other.name(1), one.name(1));
  EXPECT_EQ(one.decided(decisions({{other.name(0), DecisionKind::repair}})).open.size(), 1u)
      << other.name(0) << " is not among the explanations of the same panel";
}

TEST(Decided, ADecisionFindsItsFindingByAnyOfTheExplanations) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  for (std::size_t c = 0; c < 2; ++c)
    for (const Diagnosis& diagnosis : panel.findings.clusters[c].diagnoses) {
      const std::string name = finding_name(diagnosis.faults, panel.graph, panel.taken);
      Decisions made = decisions({{name, DecisionKind::drawing}});
      made.rows[0].readings = panel.names(c);
      const DecidedFindings found = panel.decided(made);
      ASSERT_EQ(found.open.size(), 1u) << name;
      EXPECT_EQ(found.open[0].cluster, c) << name;
      EXPECT_EQ(found.open[0].faults, diagnosis.faults) << name;
    }
}

TEST(Decided, TheLastDecisionAboutAFindingCountsAndWhatIsNoneAnyMoreIsGone) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  const std::string open = panel.name(1), other = "bad-reading R5";
  Decisions made = decisions({{open, DecisionKind::repair},
                              {"open wire 9 (A, B)", DecisionKind::accepted},
                              {other, DecisionKind::accepted}});
  made.rows[2].readings = panel.names(1);
  const DecidedFindings found = panel.decided(made);
  ASSERT_EQ(found.open.size(), 1u);
  EXPECT_EQ(found.open[0].decision, 2u);
  EXPECT_EQ(found.gone, std::vector<std::size_t>{1});
  EXPECT_EQ(decided_of(found.open, 1), &found.open[0]);
  EXPECT_EQ(decided_of(found.open, 0), nullptr);
  EXPECT_TRUE(
      panel.decided(decisions({{open, DecisionKind::repair}, {open, DecisionKind::withdrawn}})).open.empty());
}

TEST(Decided, AWithdrawalUndecidesAFindingWhicheverExplanationItNames) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  Decisions made =
      decisions({{"bad-reading R5", DecisionKind::repair}, {panel.name(1), DecisionKind::withdrawn}});
  made.rows[0].readings = made.rows[1].readings = panel.names(1);
  const DecidedFindings found = panel.decided(made);
  EXPECT_TRUE(found.open.empty());
  EXPECT_TRUE(found.gone.empty());
}

TEST(Decided, TheLastDecisionThatExplainsAReadingStandsWhateverItsNameOrRevision) {
  Decisions made = decisions({{"open wire 1 (A, B)", DecisionKind::drawing},
                              {"open wire 2 (C, D)", DecisionKind::accepted},
                              {"short A and C", DecisionKind::repair},
                              {"open wire 3 (E, F)", DecisionKind::repair}});
  made.rows[0].readings = "R1; R2", made.rows[1].readings = "R3", made.rows[2].readings = "R2; R4";
  made.rows[3].readings = "R2", made.rows[3].revision = "2";
  EXPECT_EQ(standing_decisions(made), (std::vector<std::size_t>{1, 3}));
}

TEST(Decided, ADecisionIsOvertakenWhereLaterReadingsMakeSomethingElseLikelier) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  const Diagnosis& unlikely = panel.findings.clusters[1].diagnoses.back();
  ASSERT_GT(panel.findings.clusters[1].diagnoses.size(), 1u);
  Decisions made =
      decisions({{finding_name(unlikely.faults, panel.graph, panel.taken), DecisionKind::accepted}});
  made.rows[0].readings = panel.names(1);
  EXPECT_EQ(panel.decided(made).open.size(), 1u);
  made.rows[0].readings = "R9";
  EXPECT_TRUE(panel.decided(made).open.empty()) << "one of its readings was unknown when it was decided";
  EXPECT_EQ(panel.decided(made).gone, std::vector<std::size_t>{0});
}

TEST(Decided, WhatWasReplacedStaysSoWhereTheLaterDecisionIsOvertakenOrOutdated) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  const std::vector<Diagnosis>& explanations = panel.findings.clusters[1].diagnoses;
  ASSERT_GT(explanations.size(), 1u);
  const std::string unlikely = finding_name(explanations.back().faults, panel.graph, panel.taken);
  for (const DecisionKind later : {DecisionKind::accepted, DecisionKind::withdrawn})
    for (const bool is_outdated : {false, true}) {
      // The last one is of the other finding.
      Decisions made = decisions(
          {{panel.name(1), DecisionKind::drawing}, {unlikely, later}, {panel.name(0), DecisionKind::repair}});
      made.rows[0].readings = panel.names(1);
      made.rows[1].readings = panel.names(1);
      made.rows[2].readings = panel.names(0);
      if (is_outdated)
        made.rows[1].is_outdated = true;
      else
        made.rows[1].readings = "R9; R8", made.rows[0].readings = "R9";  // all of today's came later
      const DecidedFindings found = panel.decided(made);
      ASSERT_EQ(found.open.size(), 1u);
      EXPECT_EQ(found.open[0].decision, 2u);
      EXPECT_EQ(found.gone,
                later == DecisionKind::withdrawn ? std::vector<std::size_t>{} : std::vector<std::size_t>{1});
    }
}

TEST(Decided, OfTwoFindingsWithOneExplanationTheOneOfItsReadingsIsMeant) {
  Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  panel.findings.clusters[1].diagnoses = panel.findings.clusters[0].diagnoses;
  for (std::size_t c = 0; c < 2; ++c) {
    Decisions made = decisions({{panel.name(0), DecisionKind::accepted}});
    made.rows[0].readings = panel.names(c);
    const DecidedFindings found = panel.decided(made);
    ASSERT_EQ(found.open.size(), 1u);
    EXPECT_EQ(found.open[0].cluster, c);
  }
}

TEST(Decided, AnOutdatedDecisionSpeaksOfNoFinding) {
  const Panel panel("1 X1:1 A1:1\n2 X1:2 A1:2\n3 X1:3 A1:3\n");
  Decisions made = decisions({{panel.name(1), DecisionKind::accepted}});
  made.rows[0].is_outdated = true;
  EXPECT_TRUE(panel.decided(made).open.empty());
  EXPECT_EQ(panel.decided(made).gone, std::vector<std::size_t>{0});
}

TEST(Decided, EachKindHasANameOfItsOwnWhateverTheOrderOfRowsAndEnds) {
  const std::string rows[] = {"1 X1:1 A1:1\n", "2 X1:2 A1:2\n", "part K1 contact-no 11 14\n",
                              "part K2 contact-no 11 14\n"};
  const Panel one(rows[0] + rows[1] + rows[2] + rows[3]), other(rows[3] + rows[2] + rows[1] + rows[0]);
  const auto contact = [](const Panel& panel, std::string_view part) {
    std::uint32_t row = 0;
    while (panel.net.parts[row].part != part) ++row;
    return panel.graph.element_of_part(row);
  };
  const auto made = [&](const Panel& panel, FaultKind kind, const std::string& p, const std::string& q,
                        int places = 0) {
    Fault fault;
    fault.kind = kind, fault.places = static_cast<std::int8_t>(places);
    if (kind == FaultKind::wrong_contact) {
      fault.element = contact(panel, p);
      fault.element2 = q.empty() ? ElementId::none : contact(panel, q);
    } else {
      fault.p = point(panel.net, p), fault.q = point(panel.net, q);
    }
    return finding_name(std::vector<Fault>{fault}, panel.graph, panel.taken);
  };
  using enum FaultKind;
  const std::string joined = made(one, short_circuit, "X1:2.int", "A1:1");
  EXPECT_EQ(joined, "short A1:1 and X1:2.int");
  EXPECT_EQ(made(other, short_circuit, "A1:1", "X1:2.int"), joined);
  EXPECT_EQ(made(one, extra_bridge, "X1:2.int", "X1:1.int"), "extra-bridge X1:1.int and X1:2.int");
  EXPECT_EQ(made(one, shift, "X1:1.int", "X1:2.int", -1), "shift X1:1.int and X1:2.int by -1");
  EXPECT_EQ(made(one, shift, "X1:1.int", "A1:1"), "shift A1:1 and X1:1.int");
  const std::string alone = made(one, wrong_contact, "K1", "");
  EXPECT_EQ(alone, "wrong-contact contact-no K1:11-14 (K1:11, K1:14)");
  EXPECT_EQ(made(other, wrong_contact, "K1", ""), alone);
  EXPECT_EQ(made(one, wrong_contact, "K2", "K1"), alone + " and contact-no K2:11-14 (K2:11, K2:14)");
  EXPECT_EQ(made(other, wrong_contact, "K1", "K2"), made(one, wrong_contact, "K2", "K1"));
}

TEST(Decided, WhatTouchesARoleIsTold) {
  NetlistBuilder builder;
  builder.add_file("test.csv");
  const auto add = [&](std::string_view wire, std::string_view from, std::string_view to,
                       std::string_view role) {
    ConductorRow row;
    row.wire = wire, row.from = from, row.to = to, row.role = role;
    builder.add(row, {});
  };
  add("1", "S1:1", "A1:1", "stop");
  add("2", "S1:1", "A1:2", "");
  add("3", "S2:1", "A1:3", "");
  const Netlist net = std::move(builder.finish().value());
  const ConductionGraph graph(net);
  const auto open = [](std::uint32_t e) {
    Fault fault;
    fault.element = ElementId{e};
    return std::vector<Fault>{fault};
  };
  EXPECT_TRUE(touches_role(open(0), graph));
  EXPECT_TRUE(touches_role(open(1), graph)) << "it ends where a stop circuit does";
  EXPECT_FALSE(touches_role(open(2), graph));
  Fault joined;
  joined.kind = FaultKind::short_circuit, joined.p = point(net, "S2:1"), joined.q = point(net, "A1:1");
  EXPECT_TRUE(touches_role(std::vector<Fault>{joined}, graph));
  Fault moved;
  moved.kind = FaultKind::miswire, moved.element = ElementId{2}, moved.p = point(net, "A1:1");
  EXPECT_TRUE(touches_role(std::vector<Fault>{moved}, graph));
}

}  // namespace
}  // namespace ringtrue::testing
