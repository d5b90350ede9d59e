#include "ringtrue/io/hook_up.hpp"

#include "io/analog_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

HookUp hook_up_of(SmallPanel& panel) {
  const Channel& channel = panel.graph().netlist().channels[0];
  return hook_up(Supplies(panel.graph()), channel, signal_from_text(channel.signal));
}

void expect_hook_up(const ChannelRow& row, Simulator simulator, std::string_view plus, std::string_view minus,
                    bool polarity_known = true) {
  SmallPanel panel = one_channel(row);
  const HookUp made = hook_up_of(panel);
  ASSERT_FALSE(made.why_not) << static_cast<int>(*made.why_not);
  EXPECT_EQ(made.simulator, simulator);
  EXPECT_EQ(panel.graph().netlist().points.name(made.plus), plus);
  EXPECT_EQ(panel.graph().netlist().points.name(made.minus), minus);
  EXPECT_EQ(made.polarity_known, polarity_known);
}

void expect_none(const ChannelRow& row, NoHookUp why) {
  SmallPanel panel = one_channel(row);
  const HookUp made = hook_up_of(panel);
  ASSERT_TRUE(made.why_not);
  EXPECT_EQ(*made.why_not, why);
}

ChannelRow four_wire_input() {
  ChannelRow row = two_wire_input();
  row.feed = "active", row.sensor = "", row.return_point = "X1:4";
  return row;
}

ChannelRow with_signal(ChannelRow row, std::string_view signal) {
  row.signal = signal;
  return row;
}

TEST(HookUp, TransmitterSinksFromTheSupplyOnTheReturn) {
  expect_hook_up(two_wire_input(), Simulator::transmitter, "X1:1.ext", "X1:2.ext");
}

TEST(HookUp, WhereTheChannelFeedsPlusIsItsFieldTerminal) {
  ChannelRow row = two_wire_input();
  row.return_point = "X1:3";
  expect_hook_up(row, Simulator::transmitter, "X1:2.ext", "X1:3.ext");
}

TEST(HookUp, PolarityThatIsNotDrawnIsNotGuessed) {
  ChannelRow row = two_wire_input();
  row.return_point = "X1:4";
  expect_hook_up(row, Simulator::transmitter, "X1:2.ext", "X1:4.ext", false);
}

TEST(HookUp, FourWireTransmitterFeeds) {
  expect_hook_up(four_wire_input(), Simulator::current_source, "X1:2.ext", "X1:4.ext");
  expect_hook_up(with_signal(four_wire_input(), "0-10V"), Simulator::voltage_source, "X1:2.ext", "X1:4.ext");
}

TEST(HookUp, NoSourceAgainstASupplyOfThePanel) {
  ChannelRow row = four_wire_input();
  row.return_point = "X1:1";
  expect_none(row, NoHookUp::on_a_supply);
  expect_none(with_signal(row, "0-10V"), NoHookUp::on_a_supply);
  expect_none(with_signal(row, "K"), NoHookUp::on_a_supply);
  row = two_wire_input();
  row.field = "X1:1", row.return_point = "X1:4";
  expect_none(row, NoHookUp::on_a_supply);
  row.field = "X1:2", row.return_point = "X1:6";
  expect_none(row, NoHookUp::on_a_supply);
}

TEST(HookUp, SupplyBehindAnOpenContactCounts) {
  SmallPanel panel = one_channel(four_wire_input());
  panel.part("K1", "contact-no", "13", "14").wire("7", "X1:1.int", "K1:13").wire("8", "K1:14", "X1:4.int");
  EXPECT_EQ(hook_up_of(panel).why_not, NoHookUp::on_a_supply);
}

TEST(HookUp, SupplyBehindADiodeOrByItsMarkCounts) {
  SmallPanel diode = one_channel(four_wire_input());
  diode.part("V1", "diode", "A", "K").wire("7", "X1:1.int", "V1:A").wire("8", "V1:K", "X1:4.int");
  EXPECT_EQ(hook_up_of(diode).why_not, NoHookUp::on_a_supply);
}

TEST(HookUp, AClampAgainstReverseVoltageDoesNot) {
  SmallPanel panel = one_channel(two_wire_input());
  panel.part("V1", "diode", "A", "K").wire("7", "X1:3.int", "V1:A").wire("8", "V1:K", "X1:2.int");
  EXPECT_FALSE(hook_up_of(panel).why_not);
  SmallPanel turned = one_channel(two_wire_input());
  turned.part("V1", "diode", "A", "K").wire("7", "X1:2.int", "V1:A").wire("8", "V1:K", "X1:3.int");
  EXPECT_EQ(hook_up_of(turned).why_not, NoHookUp::on_a_supply);
}

TEST(HookUp, WhatComesOutOfATransformerOrGoesIntoASupplyCounts) {
  for (const char* kind : {"transformer", "input"}) {
    SmallPanel panel = one_channel(four_wire_input());
    panel.part("T1", kind, "1", "2").wire("7", "T1:2", "X1:4.int");
    EXPECT_EQ(hook_up_of(panel).why_not, NoHookUp::on_a_supply) << kind;
  }
}

TEST(HookUp, NothingGoesAcrossASupply) {
  ChannelRow row = two_wire_input();
  row.field = "X1:3";
  expect_none(row, NoHookUp::on_a_supply);
  row.type = "AO", row.sensor = "";
  expect_none(row, NoHookUp::on_a_supply);
}

TEST(HookUp, SupplyBehindALoadDoesNot) {
  SmallPanel panel = one_channel(four_wire_input());
  panel.part("R1", "resistor", "1", "2").wire("7", "X1:1.int", "R1:1").wire("8", "R1:2", "X1:4.int");
  EXPECT_FALSE(hook_up_of(panel).why_not);
}

TEST(HookUp, SupplyOfThePartsListCountsWithoutAPotential) {
  ChannelRow row = four_wire_input();
  row.return_point = "X1:5";
  SmallPanel panel = one_channel(row);
  panel.part("G2", "supply", "+", "-").wire("7", "G2:+", "X1:5.int");
  EXPECT_EQ(hook_up_of(panel).why_not, NoHookUp::on_a_supply);
}

TEST(HookUp, ReturnThatMaySwitchBetweenPlusAndMinusHasNoPolarity) {
  ChannelRow row = two_wire_input();
  row.return_point = "X1:4";
  SmallPanel panel = one_channel(row);
  panel.part("K1", "contact-no", "13", "14").wire("7", "X1:1.int", "K1:13").wire("8", "K1:14", "X1:4.int");
  panel.part("K1", "contact-nc", "21", "22").wire("9", "X1:3.int", "K1:21").wire("10", "K1:22", "X1:4.int");
  EXPECT_FALSE(hook_up_of(panel).polarity_known);
}

TEST(HookUp, UnknownFeedGetsNone) {
  ChannelRow row = two_wire_input();
  row.feed = "";
  expect_none(row, NoHookUp::unknown_feed);
  expect_none(with_signal(row, "0-10V"), NoHookUp::unknown_feed);
  row.type = "AO";
  expect_none(row, NoHookUp::unknown_feed);
}

TEST(HookUp, FeedThatDoesNotGoWithTheRestGetsNone) {
  ChannelRow row = two_wire_input();
  row.feed = "active";
  expect_none(row, NoHookUp::feed_differs);
  expect_none(with_signal(four_wire_input(), "Pt100"), NoHookUp::feed_differs);
  expect_none(with_signal(two_wire_input(), "0-10V"), NoHookUp::feed_differs);
}

TEST(HookUp, ThermometersNeedNoFeed) {
  ChannelRow row = four_wire_input();
  row.feed = "";
  expect_hook_up(with_signal(row, "Pt1000"), Simulator::resistance_decade, "X1:2.ext", "X1:4.ext");
  expect_hook_up(with_signal(row, "J"), Simulator::millivolt_source, "X1:2.ext", "X1:4.ext");
}

TEST(HookUp, FurtherLeadsOfAThermometerAreNamed) {
  ChannelRow row = with_signal(four_wire_input(), "Pt100");
  row.feed = "passive";
  SmallPanel panel = one_channel(row);
  panel.conductor("core", "", "X1:2.ext", "B1:1").conductor("core", "", "B1:3", "X1:5.ext");
  panel.conductor("core", "", "X1:6.ext", "B10:1");
  const HookUp made = hook_up_of(panel);
  ASSERT_EQ(made.further_leads.size(), 1u);
  EXPECT_EQ(panel.graph().netlist().points.name(made.further_leads[0].terminal), "X1:5.ext");
  EXPECT_EQ(panel.graph().netlist().points.name(made.further_leads[0].device), "B1:3");
}

TEST(HookUp, OutputsAreMeasured) {
  ChannelRow row = two_wire_input();
  row.type = "AO", row.return_point = "X1:3", row.sensor = "";
  expect_hook_up(row, Simulator::milliammeter, "X1:2.ext", "X1:3.ext");
  expect_hook_up(with_signal(row, "0-10V"), Simulator::voltmeter, "X1:2.ext", "X1:3.ext");
  expect_none(with_signal(row, "Pt100"), NoHookUp::unknown_signal);
  row.feed = "active";
  expect_none(row, NoHookUp::device_feeds);
  expect_none(with_signal(row, "0-10V"), NoHookUp::feed_differs);
}

TEST(HookUp, RolesAndMissingTerminalsGetNone) {
  ChannelRow row = two_wire_input();
  expect_none(with_signal(row, "HART"), NoHookUp::unknown_signal);
  row.return_point = "";
  expect_none(row, NoHookUp::no_terminals);
  row.return_point = row.field;
  expect_none(row, NoHookUp::joined_terminals);
  row = two_wire_input();
  for (const char* role : {"ex", "stop", "guard", "protective"}) {
    row.role = role;
    expect_none(row, NoHookUp::role);
  }
}

}  // namespace
}  // namespace ringtrue
