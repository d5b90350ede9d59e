// The tests of the demo's inputs against a table written by hand from the drawing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_io_panel.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using ::testing::HasSubstr;
using ::testing::StartsWith;

constexpr InputTestKind k_jumper = InputTestKind::jumper, k_sensor = InputTestKind::sensor,
                        k_operate = InputTestKind::operate, k_none = InputTestKind::none,
                        k_analog = InputTestKind::analog;

struct Row {
  const char *channel, *from, *to;  ///< the device's other terminal, the signal's
  InputTestKind test;
  const char* expect;       ///< what the sheet says must be seen, from its first words on
  const char* act;          ///< part of what to do
  const char *bare, *read;  ///< the jumper with no readings, and with those of readings-good.csv
};

const Row k_table[] = {
    {"A1:0.0", "X13:1.ext", "X3:1.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:1.ext to X3:1.ext", "hold", "offered"},
    {"A1:0.1", "X13:2.ext", "X3:2.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:2.ext to X3:2.ext", "hold", "offered"},
    {"A1:0.2", "X13:3.ext", "X3:3.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:3.ext to X3:3.ext", "hold", "offered"},
    {"A1:0.3", "X13:6.ext", "X3:4.ext", k_sensor, "dark; sensor on: lit; off: dark",
     "PNP sensor or a simulator of one: plus to X13:6.ext, signal to X3:4.ext, minus to X13:11.ext", "hold",
     "offered"},
    {"A1:0.4", "X13:7.ext", "X3:5.ext", k_sensor, "dark; sensor on: lit; off: dark",
     "PNP sensor or a simulator of one: plus to X13:7.ext, signal to X3:5.ext, minus to X13:12.ext", "hold",
     "offered"},
    {"A1:0.5", "X13:4.ext", "X3:6.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:4.ext to X3:6.ext", "hold", "offered"},
    {"A1:0.6", "X13:5.ext", "X3:7.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:5.ext to X3:7.ext", "hold", "offered"},
    {"A1:0.7", "X13:8.ext", "X3:8.ext", k_sensor, "dark; sensor on: lit; off: dark",
     "two-wire sensor or a simulator of one: plus to X13:8.ext, minus to X3:8.ext", "hold", "offered"},
    {"A2:1.0", "S2:13", "S2:14", k_operate, "dark; S2 operated: lit; released: dark",
     "Operate S2, then release it. No jumper", "refused", "refused"},
    {"A2:1.1", "S3:11", "S3:12", k_operate, "lit; S3 operated: dark; released: lit",
     "Operate S3, then release it. No jumper", "refused", "refused"},
    {"A2:1.2", "S5:13", "S5:14", k_operate, "dark at rest; S5 in position 1: lit; in any other: dark",
     "Turn S5 to position 1", "refused", "refused"},
    {"A2:1.3", "S5:23", "S5:24", k_operate, "dark at rest; S5 in position 2: lit; in any other: dark",
     "Turn S5 to position 2", "refused", "refused"},
    {"A2:1.4", "K1:13", "K1:14", k_operate, "dark; K1 operated: lit; released: dark",
     "Operate K1, by its output or by hand", "refused", "refused"},
    {"A2:1.5", "F2:97", "F2:98", k_operate, "dark; F2 operated: lit; released: dark",
     "Operate F2, then release it. No jumper", "refused", "refused"},
    {"A2:1.6", "K10:13", "K10:14", k_none, "", "licensed procedure", "refused", "refused"},
    {"A2:1.7", "X13:9.ext", "X3:9.ext", k_jumper, "dark; jumper fitted: lit; removed: dark",
     "X13:9.ext to X3:9.ext", "hold", "offered"},
    {"A5:0+", "X5:1.ext", "X5:5.ext", k_analog, "",
     "sinks the current between X5:1.ext and X5:5.ext: plus to X5:1.ext, minus to X5:5.ext", "", ""},
    {"A5:1+", "X5:2.ext", "X5:6.ext", k_analog, "",
     "sinks the current between X5:2.ext and X5:6.ext: plus to X5:2.ext, minus to X5:6.ext", "", ""},
    {"A5:2+", "X5:3.ext", "X5:7.ext", k_analog, "",
     "sinks the current between X5:3.ext and X5:7.ext: plus to X5:3.ext, minus to X5:7.ext", "", ""},
    {"A5:3+", "X5:4.ext", "X5:8.ext", k_analog, "",
     "sinks the current between X5:4.ext and X5:8.ext: plus to X5:4.ext, minus to X5:8.ext", "", ""},
    {"A6:0+", "X5:10.ext", "X5:9.ext", k_analog, "",
     "plus to X5:9.ext, minus to X5:10.ext; the panel must not feed the loop", "", ""},
    {"A6:1+", "X5:12.ext", "X5:11.ext", k_analog, "",
     "plus to X5:11.ext, minus to X5:12.ext; the panel must not feed the loop", "", ""},
    {"A6:2+", "X5:14.ext", "X5:13.ext", k_analog, "", "simulator between X5:14.ext and X5:13.ext", "", ""},
    {"A6:3+", "X5:17.ext", "X5:16.ext", k_analog, "", "simulator between X5:17.ext and X5:16.ext", "", ""},
};

class GrainDryer {
 public:
  GrainDryer()
      : net_(std::move(load_netlist(std::string(RINGTRUE_NETLISTS) + "/grain-dryer").value())), graph_(net_) {
    for (std::size_t i = 0; i < net_.channels.size(); ++i)
      if (net_.channels[i].type == ChannelType::DI || net_.channels[i].type == ChannelType::AI)
        inputs_.push_back(i);
  }
  [[nodiscard]] Findings read(const std::string& file) const {
    const Readings taken = load_readings(std::string(RINGTRUE_NETLISTS) + "/grain-dryer/" + file).value();
    return diagnose(graph_, taken, compare(graph_, taken, {}).value());
  }
  [[nodiscard]] std::vector<InputTest> tests(const Findings* findings,
                                             const JumperOptions& options = {}) const {
    return input_tests(graph_, inputs_, findings, options);
  }
  [[nodiscard]] const Netlist& net() const { return net_; }
  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] const Channel& channel(const InputTest& test) const {
    return net_.channels[test.trace.channel];
  }

 private:
  Netlist net_;
  ConductionGraph graph_;
  std::vector<std::size_t> inputs_;
};

std::string answer(const InputTest& test) {
  return test.jumper ? std::string(word(test.jumper->answer)) : std::string();
}

TEST(InputTest, EveryInputOfTheGrainDryerAsTheTableSays) {
  const GrainDryer dryer;
  const Findings findings = dryer.read("readings-good.csv");
  const std::vector<InputTest> bare = dryer.tests(nullptr), read = dryer.tests(&findings);
  ASSERT_EQ(bare.size(), std::size(k_table));
  for (std::size_t i = 0; i < bare.size(); ++i) {
    const Row& row = k_table[i];
    SCOPED_TRACE(row.channel);
    const Channel& channel = dryer.channel(bare[i]);
    EXPECT_EQ(dryer.net().points.name(channel.point), row.channel);
    EXPECT_EQ(dryer.net().points.name(channel.return_point), row.from);
    EXPECT_EQ(dryer.net().points.name(channel.field), row.to);
    EXPECT_EQ(word(bare[i].kind), word(row.test));
    EXPECT_EQ(answer(bare[i]), row.bare);
    EXPECT_EQ(answer(read[i]), row.read);
    const InputTestWords words = input_test_words(bare[i], dryer.graph(), {}, Detail::everything);
    EXPECT_EQ(words.expect, row.expect);
    EXPECT_THAT(words.act, HasSubstr(row.act));
    const bool stands_for = channel.normal.value_or(false) && (row.test == k_jumper || row.test == k_sensor);
    EXPECT_EQ(words.stands_for.find("normal=1") != std::string::npos, stands_for);
  }
}

TEST(InputTest, WhatReadingsContradictIsHeld) {
  const GrainDryer dryer;
  const Findings findings = dryer.read("readings.csv");
  std::size_t faulty = 0;
  for (const InputTest& test : dryer.tests(&findings)) {
    if (!test.jumper || test.jumper->answer == JumperAnswer::refused) continue;
    const ChannelState state = findings.channels[test.trace.channel].state;
    EXPECT_EQ(test.jumper->answer == JumperAnswer::offered, state == ChannelState::proven);
    EXPECT_EQ(test.jumper->has(JumperReason::finding_open), state == ChannelState::faulty);
    if (state == ChannelState::faulty) ++faulty;
  }
  EXPECT_GT(faulty, 0u);
}

/// One input whose device is a sensor that the drawing doesn't show.
InputTestWords words_of(const std::string& sensor, const std::string& sense, const std::string& type = "DI",
                        const std::string& feed = "", const std::string& signal = "",
                        const std::string& volts = "24") {
  RowsOfNetlist rows;
  rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", volts}, {"point", "G1:+"}});
  rows.add<ConductorRow>({{"wire", "1"}, {"from", "X1:1.int"}, {"to", "A1:0"}});
  rows.add<ConductorRow>({{"wire", "2"}, {"from", "X1:2.int"}, {"to", "G1:+"}});
  rows.add<ChannelRow>({{"point", "A1:0"},
                        {"type", type},
                        {"field", "X1:1"},
                        {"return", "X1:2"},
                        {"feed", feed},
                        {"sense", sense},
                        {"sensor", sensor},
                        {"signal", signal}});
  const Netlist net = rows.finish();
  const ConductionGraph graph(net);
  const std::size_t channels[] = {0};
  const std::vector<InputTest> tests = input_tests(graph, channels, nullptr);
  return input_test_words(tests[0], graph, {}, Detail::everything);
}

TEST(InputTest, SaysWhatGoesToWhichTerminal) {
  EXPECT_THAT(words_of("npn", "source").act,
              HasSubstr("minus to X1:2.ext, signal to X1:1.ext, plus to the plus"));
  EXPECT_THAT(words_of("pnp", "sink").act,
              HasSubstr("plus to X1:2.ext, signal to X1:1.ext, minus to the minus"));
  EXPECT_THAT(words_of("two-wire", "source").act, HasSubstr("plus to X1:1.ext, minus to X1:2.ext"));
  EXPECT_THAT(words_of("namur", "sink").act, HasSubstr("Never a plain jumper"));
  EXPECT_EQ(words_of("namur", "sink").verdict, "refused");
  EXPECT_EQ(words_of("", "sink").what, "none");
  EXPECT_THAT(words_of("", "sink").reasons, ::testing::Contains("The channel list doesn't state sensor."));
}

TEST(InputTest, NoHookUpForALoopOfWhichNobodyKnowsWhoFeedsIt) {
  EXPECT_THAT(words_of("", "", "AI", "", "4-20mA").act, StartsWith("No hook-up"));
  EXPECT_THAT(words_of("", "", "AI", "active", "4-20mA").act,
              HasSubstr("plus to X1:1.ext, minus to X1:2.ext"));
  EXPECT_THAT(words_of("", "", "AI", "passive", "4-20mA").act,
              HasSubstr("plus to X1:2.ext, minus to X1:1.ext"));
  EXPECT_THAT(words_of("", "", "DO").act, HasSubstr("ringtrue drive"));
}

TEST(InputTest, NothingIsToBeFittedWhereAJumperIsRefused) {
  for (const char* sensor : {"contact", "pnp", "two-wire", "namur"}) {
    const InputTestWords words = words_of(sensor, "sink", "DI", "", "", "110");
    EXPECT_EQ(words.act, "Fit and connect nothing here.");
    EXPECT_EQ(words.expect + words.stands_for, "");
    EXPECT_THAT(words.reasons, ::testing::Contains("It would be on +, above 60 V DC."));
  }
  EXPECT_THAT(words_of("contact", "sink").act,
              StartsWith("Not before what keeps it on hold is settled: Fit"));
}

}  // namespace
}  // namespace ringtrue
