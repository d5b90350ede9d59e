// What a result says of what was seen, on the grain dryer. The expectations are worked out by hand from its
// channel list and drawing.
#include "ringtrue/live/io_entry.hpp"

#include <gmock/gmock.h>

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/live/io_test_words.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/io_record.hpp"

namespace ringtrue {
namespace {

using ::testing::AllOf;
using ::testing::HasSubstr;
using ::testing::StartsWith;

class IoEntries : public ::testing::Test {
 protected:
  [[nodiscard]] IoTest test_of(std::string_view channel) const {
    const std::size_t one[] = {find_channels(netlist_, channel)->front()};
    return io_tests(graph_, one, nullptr).front();
  }
  [[nodiscard]] Result<IoEntry> entry(std::string_view channel, const IoSeen& seen) const {
    return make_io_entry(test_of(channel), graph_, seen);
  }
  /// `pass | LED only | reason`, or `error: ...`.
  [[nodiscard]] std::string said(std::string_view channel, const IoSeen& seen) const {
    const auto made = entry(channel, seen);
    if (!made) return "error: " + to_text(made.error().front());
    return made->verdict + " | " + made->shown + " | " + made->reason;
  }
  static IoSeen input(std::string_view led, std::string_view back, std::string_view bit = "",
                      std::string_view only = "", std::string_view unproven = "AK") {
    IoSeen seen;
    seen.led = led, seen.back = back, seen.bit = bit, seen.only_this = only, seen.unproven = unproven;
    return seen;
  }
  static IoSeen analog(std::string_view percent, std::string_view value) {
    IoSeen seen;
    seen.percent = percent, seen.value = value;
    return seen;
  }
  static IoSeen output(std::string_view responded, std::string_view on, std::string_view off) {
    IoSeen seen;
    seen.responded = responded, seen.on = on, seen.off = off;
    return seen;
  }

  const Netlist netlist_ = load_netlist(RINGTRUE_NETLISTS "/grain-dryer").value();
  const ConductionGraph graph_{netlist_};
};

TEST_F(IoEntries, AnInputPassesWhereItIsLitAndDarkAgain) {
  struct Row {
    const char *channel, *led, *back, *bit, *only, *verdict, *shown;
  };
  const Row rows[] = {
      {"HOPPER_STOCK", "lit", "dark", "1", "yes", "pass", "pass"},  // a jumper
      {"HOPPER_STOCK", "lit", "dark", "", "", "pass", "LED only"},
      {"HOPPER_STOCK", "lit", "dark", "1", "", "pass", "incomplete"},
      {"HOPPER_STOCK", "lit", "dark", "1", "not looked", "pass", "incomplete"},
      {"HOPPER_STOCK", "lit", "", "1", "yes", "incomplete", "incomplete"},
      {"HOPPER_STOCK", "", "", "1", "yes", "incomplete", "incomplete"},
      {"HOPPER_STOCK", "dark", "dark", "0", "yes", "fail", "fail"},
      {"HOPPER_STOCK", "lit", "lit", "1", "yes", "fail", "fail"},  // lit without the jumper too
      {"HOPPER_STOCK", "lit", "dark", "0", "yes", "fail", "fail"},
      {"HOPPER_STOCK", "lit", "dark", "1", "no", "fail", "fail"},
      {"NO_STOP", "dark", "lit", "0", "yes", "pass", "pass"},  // a contact that opens
      {"NO_STOP", "lit", "lit", "1", "yes", "fail", "fail"},
      {"NO_STOP", "dark", "lit", "1", "yes", "fail", "fail"},
      {"AUTOMATIC", "lit", "dark", "1", "yes", "pass", "pass"},           // a selector
      {"HOPPER_AUGER_TURNS", "lit", "dark", "1", "yes", "pass", "pass"},  // a PNP sensor
  };
  for (const Row& row : rows)
    EXPECT_THAT(said(row.channel, input(row.led, row.back, row.bit, row.only)),
                StartsWith(std::string(row.verdict) + " | " + row.shown + " |"))
        << row.channel << ' ' << row.led << ' ' << row.back << ' ' << row.bit << ' ' << row.only;
  EXPECT_THAT(said("HOPPER_STOCK", input("lit", "lit")), HasSubstr("removed: lit, not dark"));
  EXPECT_THAT(said("HOPPER_STOCK", input("lit", "")), HasSubstr("not said: whether dark again when removed"));
}

TEST_F(IoEntries, PlaceStimulusAndExpectationAreThoseOfTheTest) {
  const IoEntry jumper = entry("%IX0.1", input("lit", "dark")).value();
  EXPECT_EQ(jumper.channel, "A1:0.1");
  EXPECT_EQ(jumper.stimulus + " at " + jumper.at, "jumper at X13:2.ext; X3:2.ext");
  EXPECT_EQ(jumper.given, "jumper fitted, then removed");
  EXPECT_EQ(jumper.expected, "dark; jumper fitted: lit; removed: dark");
  EXPECT_EQ(jumper.revision, "B");
  const IoEntry operated = entry("NO_STOP", input("dark", "lit")).value();
  EXPECT_EQ(operated.stimulus + " at " + operated.at, "operated at S3");
  EXPECT_EQ(operated.expected, "lit; S3 operated: dark; released: lit");
  const IoEntry sensor = entry("HOPPER_AUGER_TURNS", input("lit", "dark")).value();
  EXPECT_EQ(sensor.stimulus + ", " + sensor.given, "simulator, sensor on, then off");
  IoSeen own = input("lit", "dark");
  own.at = "X3:2", own.given = "a lead", own.expected = "LED 1", own.reason = "as asked";
  const IoEntry named = entry("%IX0.1", own).value();
  EXPECT_EQ(named.at + named.given + named.expected, "X3:2a leadLED 1");
  EXPECT_THAT(named.reason, ::testing::EndsWith("; as asked"));
}

TEST_F(IoEntries, ARefusedJumperCannotHaveBeenFitted) {
  for (const char* channel : {"STOP_RESET", "START", "NO_STOP", "FAN_RUNS"}) {
    IoSeen seen = input("lit", "dark", "1", "yes");
    seen.stimulus = "jumper";
    EXPECT_THAT(said(channel, seen), HasSubstr("is refused, so it can't be recorded: ")) << channel;
    seen.verdict = "pass";
    EXPECT_THAT(said(channel, seen), HasSubstr("is refused")) << channel << ", whatever the tester says";
    seen.stimulus = "simulator";
    EXPECT_THAT(said(channel, seen), HasSubstr("is refused")) << channel;
  }
  EXPECT_THAT(said("STOP_RESET", input("lit", "dark")), HasSubstr("there is no test of STOP_RESET here: "));
  EXPECT_THAT(said("STOP_RESET", input("lit", "dark")), HasSubstr("The channel has the role stop"));
  IoSeen as_a_whole = input("lit", "dark");
  as_a_whole.stimulus = "substitute", as_a_whole.verdict = "pass";
  EXPECT_THAT(said("STOP_RESET", as_a_whole), StartsWith("pass | LED only"));
}

TEST_F(IoEntries, OnHoldSomebodyTakesItOnThemselvesAndStandsInTheReason) {
  const std::string held = said("HOPPER_STOCK", input("lit", "dark", "1", "yes", ""));
  EXPECT_THAT(held,
              StartsWith("error: unproven: a jumper at HOPPER_STOCK is on hold: Not proven by readings"));
  EXPECT_THAT(held, HasSubstr("unproven=NAME"));
  EXPECT_EQ(said("HOPPER_STOCK", input("lit", "dark", "1", "yes", "Ann")),
            "pass | pass | removed: dark; on hold, offered without proof by Ann");
  EXPECT_EQ(said("NO_STOP", input("dark", "lit", "0", "yes", "")), "pass | pass | released: lit")
      << "what is operated is on no hold";
}

TEST_F(IoEntries, WhatWasSeenIsNotOverruledByAPass) {
  IoSeen seen = input("dark", "lit");
  seen.verdict = "fail";
  EXPECT_THAT(said("NO_STOP", seen), StartsWith("fail | fail |"));
  seen = input("lit", "lit"), seen.verdict = "pass";
  EXPECT_THAT(said("NO_STOP", seen), HasSubstr("speaks against a pass: S3 operated: lit, not dark"));
  seen.verdict = "withdrawn";
  EXPECT_THAT(said("NO_STOP", seen), StartsWith("error: verdict: "));
  IoSeen forced;
  forced.stimulus = "forced", forced.led = "lit";
  EXPECT_THAT(said("NO_STOP", forced), HasSubstr("nothing says what NO_STOP shows when forced"));
}

TEST_F(IoEntries, AnAnalogValueIsJudgedByTheSheet) {
  // 8 to 40 % over 32 %: 0.16 % is half a percent of it.
  EXPECT_EQ(said("MOISTURE_IN", analog("50", "24.16")),
            "pass | pass | error +0.500 % of span, tolerance 0.5 %");
  EXPECT_THAT(said("MOISTURE_IN", analog("50", "24,17")), StartsWith("fail | fail |"));
  const IoEntry entry_at_50 = entry("MOISTURE_IN", analog("50 %", "24.1")).value();
  EXPECT_EQ(entry_at_50.stimulus + " at " + entry_at_50.at, "simulator at X5:1.ext; X5:5.ext");
  EXPECT_EQ(entry_at_50.given + ": " + entry_at_50.expected + ": " + entry_at_50.value,
            "50 %, 12.000 mA: 24 %: 24.1 %");
  IoSeen raw = analog("25", "8000");
  raw.seen_as = "raw";
  EXPECT_THAT(said("MOISTURE_IN", raw), StartsWith("pass"));
  IoSeen wide = analog("50", "25");
  wide.tolerance_pct = 4;
  EXPECT_THAT(said("MOISTURE_IN", wide), StartsWith("pass"));
  EXPECT_EQ(entry("FAN_SPEED", analog("50", "5.01")).value().stimulus, "forced");
  EXPECT_THAT(said("FAN_SPEED", analog("50", "5.06")), StartsWith("fail"));
  EXPECT_THAT(said("MOISTURE_IN", analog("50", "much")), StartsWith("error: not what can be seen"));
  EXPECT_THAT(said("MOISTURE_IN", analog("400", "24")), HasSubstr("there the sheet asks for nothing"));
  EXPECT_THAT(said("MOISTURE_IN", analog("3.5mA", "failure")), StartsWith("pass"));
  EXPECT_THAT(said("MOISTURE_IN", analog("3.5mA", "24")), StartsWith("fail"));
  EXPECT_THAT(said("MOISTURE_IN", input("lit", "dark")), HasSubstr("MOISTURE_IN is an AI"));
}

TEST_F(IoEntries, AnOutputRespondsOrReadsItsVoltsOnAndOff) {
  struct Row {
    const char *responded, *on, *off, *verdict;
  };
  const Row rows[] = {
      {"yes", "", "", "pass"},         {"no", "", "", "fail"},        {"", "23.9", "0.1", "pass"},
      {"", "23.9V", "", "incomplete"},  // an unloaded output reads so while off too
      {"", "23.9", "23.5", "fail"},    {"yes", "12", "", "fail"},     {"yes", "23,9 V", "0", "pass"},
      {"", "35", "0", "fail"},         {"", "", "0.1", "incomplete"},
  };
  for (const Row& row : rows)
    EXPECT_THAT(said("FAN", output(row.responded, row.on, row.off)), StartsWith(row.verdict))
        << row.responded << ' ' << row.on << ' ' << row.off;
  const IoEntry made = entry("FAN", output("yes", "23.9", "0.1")).value();
  EXPECT_EQ(made.at + ", " + made.expected + ", " + made.value,
            "K1:A1; K1:A2, it responds; 24 V DC while on, near 0 V while off, on 23.9 V, off 0.1 V");
  EXPECT_EQ(entry("GAS_VALVE", output("yes", "", "")).value().expected,
            "it responds; 230 V AC while on, near 0 V while off");
  EXPECT_THAT(said("FAN", output("perhaps", "", "")), StartsWith("error: responded: unknown word"));
  EXPECT_THAT(said("FAN", output("yes", "much", "")), StartsWith("error: on: not a number"));
  EXPECT_THAT(said("FAN", input("lit", "dark")), StartsWith("error: led: FAN is a DO"));
}

TEST_F(IoEntries, WhatAnAnalogChannelCannotShowIsTold) {
  EXPECT_EQ(said("MOISTURE_IN", analog("50", "")),
            "error: value: nothing was seen: expected a percentage and what was seen there, such as 50=12.1");
  IoSeen seen = analog("50", "24");
  seen.seen_as = "signal";
  EXPECT_EQ(
      said("MOISTURE_IN", seen),
      "error: seen_as: what was seen is no such thing: found \"signal\", expected raw, or nothing for the "
      "unit");
  seen = analog("50", "5");
  seen.seen_as = "raw";
  EXPECT_EQ(
      said("FAN_SPEED", seen),
      "error: seen_as: what was seen is no such thing: found \"raw\", expected mA or V at the terminals");
}

TEST_F(IoEntries, NoSimulatorWasConnectedWhereNoneMayBe) {
  Netlist netlist = netlist_;
  Channel& channel = netlist.channels[find_channels(netlist_, "MOISTURE_IN")->front()];
  channel.feed = Feed::unknown;
  const ConductionGraph graph(netlist);
  const std::size_t one[] = {find_channels(netlist_, "MOISTURE_IN")->front()};
  const auto made = make_io_entry(io_tests(graph, one, nullptr).front(), graph, analog("50", "24"));
  ASSERT_FALSE(made);
  EXPECT_EQ(to_text(made.error().front()),
            "stimulus: no simulator is to be connected to MOISTURE_IN: the drawing does not say whether the "
            "device or the panel feeds the loop, and two supplies in one loop can destroy the input: found "
            "\"simulator\"");
}

TEST_F(IoEntries, AForcedOutputIsForcedOnThenOff) {
  IoSeen seen = output("yes", "", "");
  seen.stimulus = "forced";
  EXPECT_EQ(entry("FAN", seen).value().given, "forced on, then off");
}

TEST_F(IoEntries, AnOutputWithReversedPolarityIsNoPass) {
  const std::string said_reversed = said("AUGER_FORWARD", output("", "-24", "0"));
  EXPECT_THAT(said_reversed, AllOf(StartsWith("fail"), HasSubstr("reversed")));
  EXPECT_THAT(said("AUGER_FORWARD", output("", "24", "-0.02")), StartsWith("pass"));
}

TEST_F(IoEntries, NothingSeenIsNoResult) {
  for (const char* channel : {"NO_STOP", "MOISTURE_IN", "FAN"})
    EXPECT_THAT(said(channel, {}), HasSubstr("nothing was seen")) << channel;
  EXPECT_THAT(said("NO_STOP", input("bright", "")), StartsWith("error: led: unknown word"));
}

TEST_F(IoEntries, WhatIsShownFollowsFromTheLastResults) {
  const IoTest input_test = test_of("START"), analog_test = test_of("MOISTURE_IN");
  IoResults results;
  const auto add = [&](const IoTest& test, const IoSeen& seen) {
    const IoEntry made = make_io_entry(test, graph_, seen).value();
    IoResultRow row = made.row();
    row.time = "2026-03-02T09:00:00Z", row.by = "AK";
    results.rows.push_back(io_result_from_row(row, 0, "").value());
  };
  const auto shown = [&](const IoTest& test) {
    return std::string(shown_of(test, graph_, results_of(test, graph_, results)));
  };
  EXPECT_EQ(shown(input_test), "not tested");
  add(input_test, input("lit", "lit"));
  EXPECT_EQ(shown(input_test), "fail");
  add(input_test, input("lit", "dark", "1", "yes"));
  EXPECT_EQ(shown(input_test), "pass") << "the last one counts";
  for (const auto& [percent, value] : {std::pair{"0", "8"}, {"25", "16"}, {"50", "25"}, {"75", "32"}})
    add(analog_test, analog(percent, value));
  EXPECT_EQ(shown(analog_test), "fail");
  add(analog_test, analog("50", "24"));
  EXPECT_EQ(shown(analog_test), "incomplete") << "four points of five";
  add(analog_test, analog("100", "40"));
  EXPECT_EQ(shown(analog_test), "pass");

  results.rows[1].revision = "A";
  EXPECT_EQ(shown(input_test), "other revision") << "the drawing is revision B";
  results.rows[1].revision = "";
  EXPECT_EQ(shown(input_test), "pass") << "a result that names none";
  results.rows.back().revision = "A";
  EXPECT_EQ(shown(analog_test), "other revision") << "one point of five";
  add(input_test, input("lit", "lit"));
  results.rows.back().revision = "A";
  EXPECT_EQ(shown(input_test), "fail") << "no failure is hidden";
}

TEST_F(IoEntries, NothingIsFittedWhereItIsRefused) {
  std::size_t refused = 0, held = 0;
  for (std::size_t i = 0; i < netlist_.channels.size(); ++i) {
    const std::size_t one[] = {i};
    const IoTest test = io_tests(graph_, one, nullptr).front();
    const IoTestWords words = io_test_words(test, graph_);
    if (netlist_.channels[i].type != ChannelType::DI) continue;
    if (words.answer == "refused") {
      ++refused;
      EXPECT_TRUE(words.places.empty()) << words.what;
      EXPECT_THAT(words.act, ::testing::Not(::testing::AnyOf(HasSubstr("Fit a"), StartsWith("Connect a"))));
      EXPECT_FALSE(words.reasons.empty());
    }
    if (words.answer == "hold") {
      ++held;
      EXPECT_GE(words.places.size(), 2u) << words.what;
      EXPECT_FALSE(words.reasons.empty());
    }
  }
  EXPECT_EQ(refused, 1u);  // STOP_RESET; what is wired is operated, not refused
  EXPECT_EQ(held, 9u);
}

}  // namespace
}  // namespace ringtrue
