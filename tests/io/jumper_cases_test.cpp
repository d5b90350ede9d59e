// Jumper verdicts on small panels, each made for one rule.
#include <gtest/gtest.h>

#include "ringtrue/io/input_test.hpp"
#include "ringtrue/io/jumper_verdict.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_io_panel.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// A supply, a fuse, one input with its field contact in the field.
void add_small_panel(RowsOfNetlist& rows, const std::string& volts = "24", const std::string& safety = "none",
                     const std::string& sense = "sink", const std::string& wired_to = "X1:2.int") {
  rows.panel({{"panel", "P"}, {"safety", safety}});
  rows.add<PartRow>({{"part", "G1"}, {"kind", "supply"}, {"a", "+"}, {"b", "-"}});
  rows.add<PartRow>({{"part", "X1:1"}, {"kind", "terminal"}});
  rows.add<PartRow>({{"part", "X1:2"}, {"kind", "terminal"}});
  rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", volts}, {"point", "G1:+"}});
  rows.add<PotentialRow>({{"name", "-"}, {"kind", "dc-"}, {"volts", "0"}, {"point", "G1:-"}});
  rows.add<ConductorRow>({{"wire", "1"}, {"from", "G1:+"}, {"to", "X1:1.int"}});
  rows.add<ConductorRow>({{"wire", "2"}, {"from", wired_to}, {"to", "A1:0"}});
  rows.add<ConductorRow>({{"wire", "3"}, {"from", "A1:M"}, {"to", "G1:-"}});
  rows.add<ChannelRow>({{"point", "A1:0"},
                        {"type", "DI"},
                        {"field", "X1:2"},
                        {"return", "X1:1"},
                        {"common", "A1:M"},
                        {"sense", sense},
                        {"sensor", "contact"}});
}

Netlist small_panel(const std::string& volts, const std::string& safety) {
  RowsOfNetlist rows;
  add_small_panel(rows, volts, safety);
  return rows.finish();
}

JumperVerdict verdict_of(const Netlist& net, const JumperOptions& options = {}, bool is_proven = true) {
  const ConductionGraph graph(net);
  Findings findings;
  findings.channels.resize(1);
  findings.channels[0].state = ChannelState::proven;
  return JumperJudge(graph, options).for_channel(trace_channel(graph, 0), is_proven ? &findings : nullptr);
}

/// The small panel, and an output whose coil hand switch S1 feeds as well; S1 and S2 in series if `has_two`.
Netlist hand_switch_panel(bool has_two) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<PartRow>({{"part", "K1"}, {"kind", "coil"}, {"a", "A1"}, {"b", "A2"}});
  rows.add<PartRow>({{"part", "X1:3"}, {"kind", "terminal"}});
  rows.add<PartRow>({{"part", "S1"}, {"kind", "contact-no"}, {"a", "1"}, {"b", "2"}});
  rows.add<ConductorRow>({{"wire", "6"}, {"from", "X1:1.int"}, {"to", "S1:1"}});
  rows.add<ConductorRow>({{"wire", "7"}, {"from", "S1:2"}, {"to", "X1:3.int"}});
  if (has_two) rows.add<PartRow>({{"part", "S2"}, {"kind", "contact-no"}, {"a", "1"}, {"b", "2"}});
  rows.add<ConductorRow>({{"wire", "8"}, {"from", "X1:3.int"}, {"to", has_two ? "S2:1" : "K1:A1"}});
  if (has_two) rows.add<ConductorRow>({{"wire", "9"}, {"from", "S2:2"}, {"to", "K1:A1"}});
  rows.add<ConductorRow>({{"wire", "10"}, {"from", "A2:0"}, {"to", "K1:A1"}});
  rows.add<ConductorRow>({{"wire", "11"}, {"from", "K1:A2"}, {"to", "G1:-"}});
  rows.add<ChannelRow>({{"point", "A2:0"}, {"type", "DO"}, {"field", "K1:A1"}, {"return", "K1:A2"}});
  return rows.finish();
}

TEST(JumperVerdict, AHandSwitchFromAPotentialToAnOutputLeavesJumpersAtThePotential) {
  for (const bool has_two : {false, true}) {
    const Netlist net = hand_switch_panel(has_two);
    EXPECT_EQ(verdict_of(net).answer, JumperAnswer::offered);
    const ConductionGraph graph(net);
    const JumperJudge judge(graph);
    for (const char* other : {"X1:1.ext", "X1:2.ext"})
      EXPECT_TRUE(judge.between(point(net, "X1:3.ext"), point(net, other)).has(JumperReason::on_driven_net));
  }
}

TEST(JumperVerdict, AChangeoverBetweenTwoPotentialsLeavesFieldContacts) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<PartRow>({{"part", "B1"}, {"kind", "contact-no"}, {"a", "1"}, {"b", "2"}, {"place", "field"}});
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "X1:1.ext"}, {"to", "B1:1"}});
  rows.add<ConductorRow>({{"wire", "5"}, {"from", "X1:2.ext"}, {"to", "B1:2"}});
  rows.add<PartRow>({{"part", "K5"}, {"kind", "contact-no"}, {"a", "11"}, {"b", "14"}});
  rows.add<PartRow>({{"part", "K5"}, {"kind", "contact-nc"}, {"a", "11"}, {"b", "12"}});
  rows.add<ConductorRow>({{"wire", "6"}, {"from", "X1:1.int"}, {"to", "K5:14"}});
  rows.add<ConductorRow>({{"wire", "7"}, {"from", "K5:12"}, {"to", "G1:-"}});
  rows.add<PartRow>({{"part", "X1:3"}, {"kind", "terminal"}});
  rows.add<ConductorRow>({{"wire", "8"}, {"from", "K5:11"}, {"to", "X1:3.int"}});
  const Netlist net = rows.finish();
  EXPECT_EQ(verdict_of(net).answer, JumperAnswer::offered);
  const ConductionGraph graph(net);
  const JumperJudge judge(graph);
  for (const char* other : {"X1:1.ext", "X1:2.ext"})
    EXPECT_TRUE(judge.between(point(net, "X1:3.ext"), point(net, other)).has(JumperReason::joins_potentials));
}

/// Four contacts meet at N: what they lead to is joined there, with a jumper or without.
TEST(JumperVerdict, WhatOnlyMeetsInOneNetIsNotNewlyJoined) {
  RowsOfNetlist rows;
  rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "G1:+"}});
  rows.add<PotentialRow>({{"name", "-"}, {"kind", "dc-"}, {"volts", "0"}, {"point", "G1:-"}});
  const std::pair<const char*, const char*> ends[] = {
      {"S1", "X1:1.int"}, {"S2", "X1:2.int"}, {"S3", "G1:+"}, {"S4", "G1:-"}};
  for (const auto& [part, at] : ends) {
    rows.add<PartRow>({{"part", part}, {"kind", "contact-no"}, {"a", "1"}, {"b", "2"}});
    rows.add<ConductorRow>(
        {{"wire", std::string(part) + "a"}, {"from", at}, {"to", std::string(part) + ":1"}});
    rows.add<ConductorRow>(
        {{"wire", std::string(part) + "b"}, {"from", std::string(part) + ":2"}, {"to", "N1:1"}});
  }
  const Netlist net = rows.finish();
  const ConductionGraph graph(net);
  const JumperJudge judge(graph);
  const PointId first = point(net, "X1:1.ext"), second = point(net, "X1:2.ext"), plus = point(net, "G1:+");
  EXPECT_FALSE(judge.between(first, second).has(JumperReason::joins_potentials));
  EXPECT_TRUE(judge.between(first, plus).has(JumperReason::joins_potentials));
}

TEST(JumperVerdict, AnOutputThatIsJoinedToAPotentialForGoodLeavesNone) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<ConductorRow>({{"wire", "6"}, {"from", "X1:1.int"}, {"to", "A2:0"}});
  rows.add<ChannelRow>({{"point", "A2:0"}, {"type", "DO"}});
  EXPECT_TRUE(verdict_of(rows.finish()).has(JumperReason::on_driven_net));
}

TEST(JumperVerdict, OfferedOnlyOnceAllIsProvenAndSafetyIsStated) {
  EXPECT_EQ(verdict_of(small_panel("24", "none")).answer, JumperAnswer::offered);
  EXPECT_EQ(verdict_of(small_panel("24", "marked")).answer, JumperAnswer::offered);
  EXPECT_EQ(verdict_of(small_panel("24", "")).answer, JumperAnswer::hold);
  const JumperVerdict bare = verdict_of(small_panel("24", "none"), {}, false);
  EXPECT_EQ(bare.answer, JumperAnswer::hold);
  ASSERT_EQ(bare.why.size(), 1u);
  EXPECT_EQ(bare.why[0].elements.size(), 5u);  // wires 1, 2, 3 and both terminals
}

TEST(JumperVerdict, HeldWhereThePathStopsOrFeedsTheWrongWay) {
  RowsOfNetlist elsewhere, turned;
  add_small_panel(elsewhere, "24", "none", "sink", "X1:3.int");
  const JumperVerdict stops = verdict_of(elsewhere.finish());
  EXPECT_EQ(stops.answer, JumperAnswer::hold);
  EXPECT_TRUE(stops.has(JumperReason::path_does_not_conduct));
  add_small_panel(turned, "24", "none", "source");
  const JumperVerdict wrong = verdict_of(turned.finish());
  EXPECT_EQ(wrong.answer, JumperAnswer::hold);
  EXPECT_TRUE(wrong.has(JumperReason::sense_does_not_fit));
}

TEST(JumperVerdict, HeldWhereAContactFeedsTheWrongWay) {
  for (const char* feed : {"G1:+", "G1:-"}) {
    RowsOfNetlist rows;
    rows.panel({{"panel", "P"}, {"safety", "none"}});
    rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "G1:+"}});
    rows.add<PotentialRow>({{"name", "-"}, {"kind", "dc-"}, {"volts", "0"}, {"point", "G1:-"}});
    rows.add<PartRow>({{"part", "S1"}, {"kind", "contact-no"}, {"a", "1"}, {"b", "2"}});
    rows.add<ConductorRow>({{"wire", "1"}, {"from", feed}, {"to", "S1:1"}});
    rows.add<ConductorRow>({{"wire", "2"}, {"from", "S1:2"}, {"to", "X1:1.int"}});
    rows.add<ConductorRow>({{"wire", "3"}, {"from", "X1:2.int"}, {"to", "A1:0"}});
    rows.add<ChannelRow>({{"point", "A1:0"},
                          {"type", "DI"},
                          {"field", "X1:2"},
                          {"return", "X1:1"},
                          {"sense", "sink"},
                          {"sensor", "contact"}});
    EXPECT_EQ(verdict_of(rows.finish()).has(JumperReason::sense_does_not_fit), std::string(feed) == "G1:-");
  }
}

TEST(JumperVerdict, TheLimitGoesDownOnly) {
  EXPECT_EQ(verdict_of(small_panel("60", "none")).answer, JumperAnswer::offered);
  EXPECT_TRUE(verdict_of(small_panel("61", "none")).has(JumperReason::potential_above_limit));
  EXPECT_TRUE(verdict_of(small_panel("61", "none"), {400, ""}).has(JumperReason::potential_above_limit));
  EXPECT_TRUE(verdict_of(small_panel("48", "none"), {24, ""}).has(JumperReason::potential_above_limit));
}

/// The small panel with its common on a second supply, whose minus a wire may join to the first one's.
Netlist panel_with_two_supplies(bool are_joined) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<PartRow>({{"part", "G2"}, {"kind", "supply"}, {"a", "+"}, {"b", "-"}});
  rows.add<PartRow>({{"part", "X2:1"}, {"kind", "terminal"}});
  rows.add<PartRow>({{"part", "X2:2"}, {"kind", "terminal"}});
  rows.add<PotentialRow>({{"name", "2+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "G2:+"}});
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "G2:+"}, {"to", "X2:1.int"}});
  rows.add<ConductorRow>({{"wire", "5"}, {"from", "X2:2.int"}, {"to", "A1:1"}});
  if (are_joined) rows.add<ConductorRow>({{"wire", "6"}, {"from", "G2:-"}, {"to", "G1:-"}});
  rows.add<ChannelRow>({{"point", "A1:1"},
                        {"type", "DI"},
                        {"field", "X2:2"},
                        {"return", "X2:1"},
                        {"common", "A1:M"},
                        {"sense", "sink"},
                        {"sensor", "contact"}});
  return rows.finish();
}

TEST(JumperVerdict, AFeedFromAnotherSupplyThanTheCommonHolds) {
  for (const bool are_joined : {false, true}) {
    const Netlist net = panel_with_two_supplies(are_joined);
    const ConductionGraph graph(net);
    const JumperJudge judge(graph);
    EXPECT_EQ(judge.for_channel(trace_channel(graph, 1), nullptr).has(JumperReason::two_supplies),
              !are_joined);
    EXPECT_FALSE(judge.for_channel(trace_channel(graph, 0), nullptr).has(JumperReason::two_supplies));
    const std::size_t second[] = {1};
    const InputTest test = input_tests(graph, second, nullptr).front();
    EXPECT_EQ(input_test_words(test, graph, {}, Detail::everything).expect,
              are_joined ? "dark; jumper fitted: lit; removed: dark" : "as drawn it stays dark");
  }
}

/// What can be mended in the drawing's files is told at once; anything else waits behind a refusal.
TEST(JumperVerdict, WhatTheDrawingLeavesOpenIsToldAtOnce) {
  const auto reasons = [](const std::string& volts, const std::string& sense) {
    const Netlist net = [&] {
      RowsOfNetlist rows;
      add_small_panel(rows, volts, "", sense);
      return rows.finish();
    }();
    const std::size_t all[] = {0};
    const ConductionGraph graph(net);
    const auto words =
        input_test_words(input_tests(graph, all, nullptr).front(), graph, {}, Detail::everything);
    std::string text;
    for (const std::string& reason : words.reasons) text += reason.substr(0, 40) + "|";
    return text;
  };
  EXPECT_EQ(reasons("", ""),
            "The channel list doesn't state sense: co|The drawing doesn't state the volts of +|"
            "The drawing doesn't state safety: check |");
  EXPECT_EQ(reasons("400", "").find("safety"), std::string::npos);  // a refusal for the volts
}

TEST(JumperVerdict, ATerminalIsNotJoinedToItself) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "X1:1.int"}, {"to", "X1:2.int"}});
  const Netlist net = rows.finish();
  const JumperVerdict verdict = verdict_of(net, {60, "Somebody"});
  EXPECT_EQ(verdict.answer, JumperAnswer::refused);
  EXPECT_TRUE(verdict.has(JumperReason::terminals_joined));
  const ConductionGraph graph(net);
  const std::size_t channels[] = {0};
  EXPECT_EQ(input_tests(graph, channels, nullptr)[0].kind, InputTestKind::none);
}

TEST(JumperVerdict, AJumperAcrossAWiredContactThatIsClosedAtRestIsRefused) {
  RowsOfNetlist rows;
  add_small_panel(rows);
  rows.add<PartRow>({{"part", "S1"}, {"kind", "contact-nc"}, {"a", "1"}, {"b", "2"}});
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "X1:1.int"}, {"to", "S1:1"}});
  rows.add<ConductorRow>({{"wire", "5"}, {"from", "S1:2"}, {"to", "X1:2.int"}});
  const JumperVerdict verdict = verdict_of(rows.finish(), {60, "Somebody"});
  EXPECT_EQ(verdict.answer, JumperAnswer::refused);
  EXPECT_TRUE(verdict.has(JumperReason::across_closed_contact));
  EXPECT_TRUE(verdict.has(JumperReason::device_is_wired));
}

}  // namespace
}  // namespace ringtrue
