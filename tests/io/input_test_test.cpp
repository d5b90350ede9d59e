// The tests of the demo's inputs against a table written by hand from the drawing.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <deque>
#include <map>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/io/input_test.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/jumper_report.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_io_panel.hpp"

namespace ringtrue {
namespace {

using namespace testing;
using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::StartsWith;

class GrainDryer {
 public:
  GrainDryer()
      : net_(std::move(load_netlist(std::string(RINGTRUE_NETLISTS) + "/grain-dryer").value())), graph_(net_) {
    for (std::size_t i = 0; i < net_.channels.size(); ++i)
      if (net_.channels[i].type == ChannelType::DI || net_.channels[i].type == ChannelType::AI)
        inputs_.push_back(i);
  }
  [[nodiscard]] Findings read(const std::string& file) const {
    return findings_of(load_readings(std::string(RINGTRUE_NETLISTS) + "/grain-dryer/" + file).value());
  }
  [[nodiscard]] Findings findings_of(const Readings& taken) const {
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

TEST(InputTest, WhatIsToBeReadProvesAllThatABeepCanShow) {
  const GrainDryer dryer;
  std::size_t held = 0, doubled = 0;
  for (const InputTest& test : dryer.tests(nullptr)) {
    if (!test.jumper || test.jumper->answer != JumperAnswer::hold) continue;
    ASSERT_EQ(test.jumper->why.size(), 1u);
    const WhyJumper& why = test.jumper->why[0];
    std::deque<std::string> names;
    Readings taken;
    for (const auto& [from, to] : why.to_read) {
      Reading beep;
      beep.from = names.emplace_back(dryer.net().points.name(from));
      beep.to = names.emplace_back(dryer.net().points.name(to));
      taken.rows.push_back(beep);
    }
    const Findings findings = dryer.findings_of(taken);
    EXPECT_EQ(findings.channels[test.trace.channel].unproven_elements, why.no_beep_shows);
    EXPECT_EQ(why.to_read.size(), 3u);  // signal, return, common
    doubled += why.no_beep_shows.size();
    if (held++ > 0) continue;
    EXPECT_THAT(names, ElementsAre("A1:0.0", "X3:1.ext", "X13:1.ext", "G1:+", "A1:M", "G1:-"));
    ASSERT_EQ(why.no_beep_shows.size(), 2u);  // of the ring 501 to 507
    EXPECT_EQ(dryer.graph().element_name(why.no_beep_shows[0]), "501");
    EXPECT_EQ(dryer.graph().element_name(why.no_beep_shows[1]), "502");
  }
  EXPECT_EQ(held, 9u);
  EXPECT_EQ(doubled, 8u * 2 + 3);  // A2:M lies one wire further along
}

// The channel list names X1:9, where no wire leads: the way stops at X1:6, and is read as far as that.
TEST(InputTest, APathThatStopsIsReadAsFarAsItLeads) {
  const Netlist net = netlist(
      "part G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
      "1 G1:1 X1:3.int\n10 A1:2 X1:6.int\n3 A1:M G1:2\nchannel A1:2 DI X1:9.ext X1:3.ext A1:M\n");
  const ConductionGraph graph(net);
  const Readings none;
  const Findings nothing_read = diagnose(graph, none, compare(graph, none, {}).value());
  const std::size_t one[] = {0};
  const InputTest test = input_tests(graph, one, &nothing_read, {}).front();
  ASSERT_TRUE(test.jumper);
  const auto& why = test.jumper->why;
  const auto not_proven = std::find_if(
      why.begin(), why.end(), [](const WhyJumper& each) { return each.reason == JumperReason::not_proven; });
  ASSERT_NE(not_proven, why.end());
  EXPECT_TRUE(not_proven->no_beep_shows.empty());
  std::vector<std::string> pairs;
  for (const auto& [from, to] : not_proven->to_read)
    pairs.push_back(net.points.name(from) + " " + net.points.name(to));
  EXPECT_THAT(pairs, ElementsAre("A1:2 X1:6.ext", "X1:3.ext G1:1", "A1:M G1:2"));
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

/// An input whose device is B9 with three leads; what B9 is and where the third leads may differ.
InputTest test_with_sensor(std::initializer_list<std::pair<std::string_view, std::string>> part,
                           const std::string& sensor, const std::string& third,
                           InputTestWords* words = nullptr, const std::string& role_of_third = "") {
  RowsOfNetlist rows;
  rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "G1:+"}});
  rows.add<PotentialRow>({{"name", "-"}, {"kind", "dc-"}, {"volts", "0"}, {"point", "G1:-"}});
  rows.add<PotentialRow>({{"name", "L"}, {"kind", "ac-line"}, {"volts", "230"}, {"point", "X0:L"}});
  rows.add<PartRow>(part);
  rows.add<ConductorRow>({{"wire", "1"}, {"from", "X1:1.int"}, {"to", "A1:0"}});
  rows.add<ConductorRow>({{"wire", "2"}, {"from", "X1:2.int"}, {"to", "G1:+"}});
  rows.add<ConductorRow>({{"wire", "3"}, {"from", "X1:3.int"}, {"to", third}, {"role", role_of_third}});
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "X1:1.ext"}, {"to", "B9:S"}});
  rows.add<ConductorRow>({{"wire", "5"}, {"from", "X1:2.ext"}, {"to", "B9:1"}});
  rows.add<ConductorRow>({{"wire", "6"}, {"from", "X1:3.ext"}, {"to", "B9:3"}});
  rows.add<ChannelRow>({{"point", "A1:0"},
                        {"type", "DI"},
                        {"field", "X1:1"},
                        {"return", "X1:2"},
                        {"device", "B9"},
                        {"normal", "1"},
                        {"sense", "sink"},
                        {"sensor", sensor}});
  const Netlist net = rows.finish();
  const ConductionGraph graph(net);
  const std::size_t channels[] = {0};
  std::vector<InputTest> tests = input_tests(graph, channels, nullptr);
  if (words != nullptr) *words = input_test_words(tests[0], graph, {}, Detail::everything);
  return std::move(tests[0]);
}

TEST(InputTest, ASensorWiredInThePanelIsActuatedWhereItIs) {
  for (const char* sensor : {"pnp", "two-wire", "namur", "contact", ""}) {
    InputTestWords words;
    const InputTest test =
        test_with_sensor({{"part", "B9"}, {"kind", "sensor"}, {"a", "1"}, {"b", "3"}, {"place", "door"}},
                         sensor, "G1:-", &words);
    EXPECT_EQ(test.kind, InputTestKind::actuate) << sensor;
    EXPECT_TRUE(test.is_there());
    EXPECT_EQ(test.jumper->answer, JumperAnswer::refused);
    EXPECT_EQ(words.what, "B9 wired in the door");
    EXPECT_EQ(words.act, "Operate B9, then release it. No jumper for it.");
    EXPECT_EQ(words.expect,
              "changes when B9 is operated, and changes back; lit in the plant at rest (normal=1)");
  }
}

// By the drawing: S5:13-14 gives AUTOMATIC and S5:23-24 gives HAND; no other two inputs share a device or
// terminal.
TEST(InputTest, WhatOneDeviceMovesTooIsSaid) {
  const Netlist dryer = load_netlist(RINGTRUE_NETLISTS "/grain-dryer").value();
  const ConductionGraph graph(dryer);
  std::vector<std::size_t> inputs;
  for (std::size_t i = 0; i < dryer.channels.size(); ++i)
    if (dryer.channels[i].type == ChannelType::DI) inputs.push_back(i);
  std::map<std::string, std::string> also;
  for (const InputTest& test : input_tests(graph, inputs, nullptr))
    for (const std::size_t other : test.also)
      also[std::string(dryer.channels[test.trace.channel].tag)] += dryer.channels[other].tag;
  EXPECT_EQ(also, (std::map<std::string, std::string>{{"AUTOMATIC", "HAND"}, {"HAND", "AUTOMATIC"}}));
}

// Two inputs at one terminal: a jumper there lights both.
TEST(InputTest, InputsAtOneTerminalChangeTogether) {
  RowsOfNetlist rows;
  rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "G1:+"}});
  rows.add<ConductorRow>({{"wire", "1"}, {"from", "X1:1.int"}, {"to", "A1:0"}});
  rows.add<ConductorRow>({{"wire", "2"}, {"from", "A1:0"}, {"to", "A1:1"}});
  rows.add<ConductorRow>({{"wire", "3"}, {"from", "X1:3.int"}, {"to", "A1:2"}});
  rows.add<ConductorRow>({{"wire", "4"}, {"from", "X1:2.int"}, {"to", "G1:+"}});
  for (const char* n : {"1", "2", "3"})
    rows.add<PartRow>({{"part", std::string("X1:") + n}, {"kind", "terminal"}, {"a", "int"}, {"b", "ext"}});
  for (const auto& [point, field] :
       {std::pair{"A1:0", "X1:1.ext"}, {"A1:1", "X1:1.ext"}, {"A1:2", "X1:3.ext"}})
    rows.add<ChannelRow>({{"point", point},
                          {"type", "DI"},
                          {"field", field},
                          {"return", "X1:2.ext"},
                          {"sensor", "contact"},
                          {"sense", "sink"}});
  const Netlist net = rows.finish();
  const ConductionGraph graph(net);
  const std::size_t channels[] = {0, 1, 2};
  const auto tests = input_tests(graph, channels, nullptr);
  EXPECT_EQ(tests[0].also, std::vector<std::size_t>{1});
  EXPECT_EQ(tests[1].also, std::vector<std::size_t>{0});
  EXPECT_TRUE(tests[2].also.empty());
}

TEST(InputTest, ASensorWiredInThePanelThatHasARoleIsNot) {
  const InputTest test = test_with_sensor(
      {{"part", "B9"}, {"kind", "sensor"}, {"a", "1"}, {"b", "3"}, {"role", "guard"}}, "pnp", "G1:-");
  EXPECT_EQ(test.kind, InputTestKind::none);
  EXPECT_FALSE(test.is_there());
}

TEST(InputTest, TheFurtherLeadOfASensorGoesToTheOtherPoleOrIsNotNamed) {
  const auto third = [](const std::string& at) {
    return test_with_sensor({{"part", "B9"}, {"kind", "sensor"}, {"a", "1"}, {"b", "3"}, {"place", "field"}},
                            "pnp", at)
        .third;
  };
  EXPECT_NE(third("G1:-"), PointId::none);
  for (const char* wrong : {"G1:+", "X0:L", "A9:1"}) EXPECT_EQ(third(wrong), PointId::none) << wrong;
  const auto guarded = [](const std::string& role) {
    return test_with_sensor({{"part", "B9"}, {"kind", "sensor"}, {"a", "1"}, {"b", "3"}, {"place", "field"}},
                            "pnp", "G1:-", nullptr, role)
        .third;
  };
  EXPECT_NE(guarded(""), PointId::none);
  EXPECT_EQ(guarded("guard"), PointId::none);
}

TEST(InputTest, AContactOfSomethingWithARoleIsNotOperated) {
  const auto kind = [](const std::string& contact_role, const std::string& coil_role,
                       const std::string& part = "K9") {
    RowsOfNetlist rows;
    rows.add<PartRow>({{"part", part},
                       {"kind", "contact-no"},
                       {"a", "13"},
                       {"b", "14"},
                       {"actuated_by", "K9"},
                       {"role", contact_role}});
    rows.add<PartRow>({{"part", "K9"}, {"kind", "coil"}, {"a", "A1"}, {"b", "A2"}, {"role", coil_role}});
    rows.add<ConductorRow>({{"wire", "1"}, {"from", part + ":14"}, {"to", "A1:0"}});
    rows.add<ChannelRow>(
        {{"point", "A1:0"}, {"type", "DI"}, {"field", part + ":14"}, {"return", part + ":13"}});
    const Netlist net = rows.finish();
    const ConductionGraph graph(net);
    const std::size_t channels[] = {0};
    const InputTest test = input_tests(graph, channels, nullptr)[0];
    for (const std::string& reason : input_test_words(test, graph, {}, Detail::everything).reasons)
      EXPECT_TRUE(test.kind != InputTestKind::none || reason.find("operate it") == reason.npos) << reason;
    return test.kind;
  };
  EXPECT_EQ(kind("", ""), InputTestKind::operate);
  EXPECT_EQ(kind("stop", ""), InputTestKind::none);
  EXPECT_EQ(kind("stop", "", "K9E"), InputTestKind::none);
  EXPECT_EQ(kind("", "stop"), InputTestKind::none);
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
  EXPECT_THAT(words_of("", "sink").reasons,
              ::testing::Contains("The channel list doesn't state sensor: columns of channels.csv."));
}

TEST(InputTest, NoHookUpForALoopOfWhichNobodyKnowsWhoFeedsIt) {
  EXPECT_THAT(words_of("", "", "AI", "", "4-20mA").act,
              StartsWith("Connect nothing: the drawing does not say whether"));
  EXPECT_THAT(words_of("", "", "AI", "active", "4-20mA").act,
              StartsWith("Connect nothing: by the drawing a supply of the panel is"));
  EXPECT_THAT(words_of("", "", "AI", "passive", "4-20mA").act,
              HasSubstr("plus to X1:2.ext, minus to X1:1.ext"));
  EXPECT_THAT(words_of("", "", "DO").act, HasSubstr("ringtrue drive"));
}

TEST(InputTest, AnAnalogChannelWithNothingToConnectHasNoTest) {
  for (const char* feed : {"passive", ""}) {
    RowsOfNetlist rows;
    rows.add<PotentialRow>({{"name", "+"}, {"kind", "dc+"}, {"volts", "24"}, {"point", "X1:2.int"}});
    rows.add<ConductorRow>({{"wire", "1"}, {"from", "X1:1.int"}, {"to", "A1:0"}});
    rows.add<ChannelRow>({{"point", "A1:0"},
                          {"type", "AI"},
                          {"field", "X1:1"},
                          {"return", "X1:2"},
                          {"feed", feed},
                          {"signal", "4-20mA"}});
    const Netlist net = rows.finish();
    const ConductionGraph graph(net);
    const std::size_t channels[] = {0};
    EXPECT_EQ(input_tests(graph, channels, nullptr)[0].is_there(), std::string(feed) == "passive");
  }
}

TEST(InputTest, NothingIsToBeFittedWhereAJumperIsRefused) {
  for (const char* sensor : {"contact", "pnp", "two-wire", "namur"}) {
    const InputTestWords words = words_of(sensor, "sink", "DI", "", "", "110");
    EXPECT_EQ(words.act, "Fit and connect nothing here.");
    EXPECT_EQ(words.expect + words.stands_for, "");
    EXPECT_THAT(words.reasons, ::testing::Contains("It would be on +, above 60 V DC."));
  }
  EXPECT_THAT(words_of("contact", "sink").act, StartsWith("Once the hold is settled: fit a jumper"));
}

}  // namespace
}  // namespace ringtrue
