// What has a role is never moved, on the demo and where the feed of an output passes it.
#include <gtest/gtest.h>

#include <algorithm>

#include "ringtrue/load/load.hpp"
#include "ringtrue/logic/outlet.hpp"

namespace ringtrue::logic {
namespace {

Program program_of(const std::string& text, const Netlist& netlist) {
  auto program = parse_logic(text, "p.st", netlist);
  if (!program) throw std::runtime_error(to_text(program.error().front()));
  return std::move(*program);
}

std::uint32_t variable_named(const Program& program, std::string_view name) {
  for (std::uint32_t i = 0; i < program.variables.size(); ++i)
    if (program.variables[i].name == name) return i;
  throw std::runtime_error("no such variable");
}

class DryerLogic : public testing::Test {
 protected:
  Drive drive(std::string_view output) const {
    return drive_output(program_, variable_named(program_, output), graph_, fittings_);
  }
  const Netlist netlist_ = load_netlist(RINGTRUE_NETLISTS "/grain-dryer").value();
  const ConductionGraph graph_{netlist_};
  const Fittings fittings_ = fittings_of(graph_, nullptr);
  const Program program_ = program_of(
      std::string(files_on_disk().read(RINGTRUE_NETLISTS "/grain-dryer/logic.st", 1u << 20)->view()),
      netlist_);
};

TEST_F(DryerLogic, EveryOutputHasASequence) {
  for (const Channel& channel : netlist_.channels) {
    if (channel.type != ChannelType::DO) continue;
    const Drive found = drive(channel.tag);
    EXPECT_TRUE(found.turns_on && found.turns_off) << channel.tag;
    EXPECT_TRUE(found.is_whole) << channel.tag;
    EXPECT_EQ(found.deciding.pairs.size() + found.deciding.unpaired.size(), [&] {
      std::size_t inputs = 0;
      for (const Source& source : found.sources) inputs += source.variables.size();
      return inputs;
    }()) << channel.tag;
  }
}

TEST_F(DryerLogic, InputsWithARoleHaveOneState) {
  for (const Channel& channel : netlist_.channels) {
    if (channel.type != ChannelType::DO) continue;
    for (const Source& source : drive(channel.tag).sources)
      if (source.role != Role::none) {
        EXPECT_EQ(source.options.size(), 1u);
        EXPECT_EQ(source.how, How::hold);
      }
  }
}

TEST_F(DryerLogic, DryingNeedsTheStopCircuitAndAirByHandDoesNot) {
  EXPECT_EQ(drive("BURNER_ENABLE").verdict, DriveVerdict::substitute);
  EXPECT_EQ(drive("FAN").verdict, DriveVerdict::drivable);
}

TEST_F(DryerLogic, ARunningFanIsSeenByItsContactor) {
  const Drive found = drive("BURNER_ENABLE");
  const std::uint32_t runs = variable_named(program_, "FAN_RUNS");
  for (const Source& source : found.sources)
    if (source.variables.front() == runs) {
      EXPECT_EQ(source.how, How::follow);
      EXPECT_EQ(source.device, "K1");
      EXPECT_EQ(source.output, variable_named(program_, "FAN"));
    }
}

TEST_F(DryerLogic, WhatRespondsHangsOnTheOutput) {
  const std::uint32_t channel = program_.variables[variable_named(program_, "AUGER_FORWARD")].channel;
  const Outlet outlet = outlet_of(graph_, channel);
  ASSERT_EQ(outlet.loads.size(), 1u);
  EXPECT_EQ(graph_.element_name(outlet.loads.front()), "K2:A1-A2");
  EXPECT_EQ(outlet.contacts.size(), 4u);
  EXPECT_TRUE(outlet.guarded.empty());
}

/// Those of the stop circuit stay closed in every test, and each input that the rest left over is there once.
TEST_F(DryerLogic, WithTheBoxFurtherInputsDecide) {
  const Drive found = drive("DISCHARGE");
  ASSERT_TRUE(found.with_box);
  std::vector<std::string> names;
  for (const Pair& pair : found.with_box->pairs) names.push_back(found.slice.variables[pair.variable].name);
  std::sort(names.begin(), names.end());
  EXPECT_EQ(names, (std::vector<std::string>{"AUGER_OVERLOAD", "AUTOMATIC", "BURNER_FAULT",
                                             "GRAIN_TEMPERATURE", "PLENUM_TEMPERATURE", "START"}));
  for (const Source& source : found.with_box->sources)
    if (source.role != Role::none) {
      EXPECT_EQ(source.options, (std::vector<std::vector<double>>{{1}}));
    }
  EXPECT_FALSE(drive("AUGER_FORWARD").with_box);
}

/// An output fed by 24 V past a contact of K9, or whose only input is one of F9; both of that role.
Netlist guarded_panel(const std::string& role_of_feed, const std::string& role_of_input) {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1,G1:+,K9:13\n2,K9:14,A1:L\n3,A1:1,K1:A1\n4,K1:A2,G1:-\n5,G1:+,F9:97\n6,F9:98,A1:0\n"},
       {"p/parts.csv", "part,kind,a,b,role\nG1,supply,+,-,\nK9,contact-no,13,14," + role_of_feed +
                           "\nK1,coil,A1,A2,\nF9,contact-no,97,98," + role_of_input + "\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
       {"p/channels.csv",
        "point,type,tag,field,return,common\nA1:0,DI,TRIP,F9:98,F9:97,\nA1:1,DO,MOTOR,K1:A1,K1:A2,A1:L\n"}});
  return load_netlist("p", {}, files).value();
}

DriveVerdict verdict_with(const std::string& role_of_feed, const std::string& role_of_input) {
  const Netlist netlist = guarded_panel(role_of_feed, role_of_input);
  const ConductionGraph graph(netlist);
  const Program program = program_of("MOTOR := TRIP;", netlist);
  return verdict_of(drive_output(program, 1, graph, fittings_of(graph, nullptr)), outlet_of(graph, 1));
}

TEST(LogicRoles, AFeedPastAStopOrGuardTakesRealDevices) {
  EXPECT_EQ(verdict_with("", ""), DriveVerdict::drivable);
  EXPECT_EQ(verdict_with("stop", ""), DriveVerdict::substitute);
  EXPECT_EQ(verdict_with("guard", ""), DriveVerdict::substitute);
}

/// The steps for MOTOR of a push button S1 with a make and a break contact, and of two inputs C and D at one
/// terminal.
Drive drive_with_coupled_inputs(const std::string& expression) {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1,G1:+,S1:13\n2,S1:14,A1:0\n3,G1:+,S1:21\n4,S1:22,A1:1\n5,A1:4,K1:A1\n6,K1:A2,G1:-\n"
        "7,A1:2,X1:1.int\n8,A1:3,X1:1.int\n9,G1:+,X1:2.int\n"},
       {"p/parts.csv",
        "part,kind,a,b,place\nG1,supply,+,-,\nS1,contact-no,13,14,door\nS1,contact-nc,21,22,door\n"
        "K1,coil,A1,A2,\nX1:1,terminal,int,ext,\nX1:2,terminal,int,ext,\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
       {"p/channels.csv",
        "point,type,tag,field,return,sense,sensor\nA1:0,DI,A,S1:14,S1:13,,\nA1:1,DI,B,S1:22,S1:21,,\n"
        "A1:2,DI,C,X1:1.ext,X1:2.ext,sink,contact\nA1:3,DI,D,X1:1.ext,X1:2.ext,sink,contact\n"
        "A1:4,DO,MOTOR,K1:A1,K1:A2,,\n"}});
  const Netlist netlist = load_netlist("p", {}, files).value();
  const ConductionGraph graph(netlist);
  const Program program = program_of("MOTOR := " + expression + ";", netlist);
  return drive_output(program, variable_named(program, "MOTOR"), graph, fittings_of(graph, nullptr));
}

TEST(LogicSources, WhatOneHandMovesMovesTogether) {
  EXPECT_EQ(drive_with_coupled_inputs("A AND B").verdict, DriveVerdict::unreachable);
  EXPECT_EQ(drive_with_coupled_inputs("C XOR D").verdict, DriveVerdict::unreachable);
  const Drive button = drive_with_coupled_inputs("A AND NOT B");
  ASSERT_EQ(button.verdict, DriveVerdict::drivable);
  ASSERT_EQ(button.sources.size(), 1u);
  EXPECT_EQ(button.sources[0].options, (std::vector<std::vector<double>>{{0, 1}, {1, 0}}));
  EXPECT_TRUE(button.deciding.pairs.empty());
  for (const Unpaired& unpaired : button.deciding.unpaired) EXPECT_EQ(unpaired.cause, NoPair::coupled);
  const Drive lead = drive_with_coupled_inputs("C AND D");
  ASSERT_EQ(lead.verdict, DriveVerdict::drivable);
  ASSERT_EQ(lead.sources.size(), 1u);
  EXPECT_EQ(lead.sources[0].options, (std::vector<std::vector<double>>{{0, 0}, {1, 1}}));
}

/// The way out runs to the field, past a guard switch that isn't there, and back to the load's terminal.
TEST(LogicRoles, AGuardInTheFieldBetweenAnOutputAndItsLoadTakesRealDevices) {
  const auto verdict = [](const std::string& role) {
    const StoredFiles files(
        {{"p/conductors.csv",
          "wire,from,to\n1,G1:+,A1:L\n2,A1:1,X1:1.int\n3,X1:1.ext,S9:11\n4,S9:12,X1:2.ext\n"
          "5,X1:2.int,X1:3.int\n6,X1:4.int,G1:-\n7,G1:+,S1:13\n8,S1:14,A1:0\n"},
         {"p/parts.csv",
          "part,kind,a,b,role,place\nG1,supply,+,-,,\nS1,contact-no,13,14,,door\nS9,contact-nc,11,12," +
              role + ",field\nX1:1,terminal,int,ext,,\nX1:2,terminal,int,ext,,\nX1:3,terminal,int,ext,,\n"},
         {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
         {"p/channels.csv",
          "point,type,tag,field,return,common\nA1:0,DI,PUSH,S1:14,S1:13,\n"
          "A1:1,DO,VALVE,X1:3.ext,X1:4.ext,A1:L\n"}});
    const Netlist netlist = load_netlist("p", {}, files).value();
    const ConductionGraph graph(netlist);
    const Program program = program_of("VALVE := PUSH;", netlist);
    return verdict_of(drive_output(program, 1, graph, fittings_of(graph, nullptr)), outlet_of(graph, 1));
  };
  EXPECT_EQ(verdict(""), DriveVerdict::drivable);
  EXPECT_EQ(verdict("guard"), DriveVerdict::substitute);
}

TEST(LogicRoles, AnOutputThatDrivesSomethingWithARoleIsNotTestableThisWay) {
  const auto verdict = [](const std::string& role) {
    const StoredFiles files(
        {{"p/conductors.csv",
          "wire,from,to\n1,G1:+,A1:L\n2,A1:1,K1:A1\n3,K1:A2,G1:-\n4,G1:+,S1:13\n5,S1:14,A1:0\n"},
         {"p/parts.csv",
          "part,kind,a,b,role\nG1,supply,+,-,\nS1,contact-no,13,14,\nK1,coil,A1,A2," + role + "\n"},
         {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
         {"p/channels.csv",
          "point,type,tag,field,return,common\nA1:0,DI,PUSH,S1:14,S1:13,\nA1:1,DO,RELAY,K1:A1,K1:A2,A1:"
          "L\n"}});
    const Netlist netlist = load_netlist("p", {}, files).value();
    const ConductionGraph graph(netlist);
    const Program program = program_of("RELAY := PUSH;", netlist);
    return verdict_of(drive_output(program, 1, graph, fittings_of(graph, nullptr)), outlet_of(graph, 1));
  };
  EXPECT_EQ(verdict(""), DriveVerdict::drivable);
  for (const char* role : {"stop", "guard", "protective", "ex"})
    EXPECT_EQ(verdict(role), DriveVerdict::not_testable) << role;
}

TEST(LogicRoles, OtherRolesAreNotTestableThisWay) {
  EXPECT_EQ(verdict_with("protective", ""), DriveVerdict::not_testable);
  EXPECT_EQ(verdict_with("ex", ""), DriveVerdict::not_testable);
  EXPECT_EQ(verdict_with("", "protective"), DriveVerdict::not_testable);
  EXPECT_EQ(verdict_with("", "stop"), DriveVerdict::not_testable);  // it shows the stop circuit itself
}

/// A sensor in the door is operated itself, with all its inputs at once: no lead stands for it.
TEST(LogicRoles, AWiredSensorIsOperated) {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1,G1:+,B9:1\n2,B9:2,A1:0\n3,A1:1,P1:x1\n4,P1:x2,G1:-\n5,B9:3,G1:-\n6,B9:4,A1:2\n"},
       {"p/parts.csv",
        "part,kind,a,b,place\nG1,supply,+,-,\nB9,sensor,1,2,door\nB9,sensor,1,3,door\nB9,sensor,1,4,door\nP1,"
        "lamp,x1,x2,\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
       {"p/channels.csv",
        "point,type,tag,field,return,sense,sensor,device,normal\nA1:0,DI,CLOSED,B9:2,B9:1,sink,pnp,B9,1\n"
        "A1:1,DO,LAMP,P1:x1,P1:x2,,,,\nA1:2,DI,OPEN,B9:4,B9:1,sink,pnp,B9,0\n"}});
  const Netlist netlist = load_netlist("p", {}, files).value();
  const ConductionGraph graph(netlist);
  const Program program = program_of("LAMP := OPEN AND NOT CLOSED;", netlist);
  const Drive found =
      drive_output(program, variable_named(program, "LAMP"), graph, fittings_of(graph, nullptr));
  ASSERT_EQ(found.sources.size(), 1u);
  const Source& sensor = found.sources.front();
  EXPECT_EQ(sensor.how, How::operate);
  EXPECT_EQ(sensor.device, "B9");
  EXPECT_EQ(sensor.variables.size(), 2u);
  EXPECT_EQ(sensor.options, (std::vector<std::vector<double>>{{0, 1}, {1, 0}}));
  EXPECT_EQ(sensor.rest, 1) << "normal";
  EXPECT_EQ(found.verdict, DriveVerdict::drivable);
}

/// A break contact of a coil that an output drives shows the output the other way round.
TEST(LogicRoles, ABreakContactFollowsItsOutputInverted) {
  const StoredFiles files(
      {{"p/conductors.csv",
        "wire,from,to\n1,G1:+,K1:21\n2,K1:22,A1:0\n3,A1:1,K1:A1\n4,K1:A2,G1:-\n5,G1:+,X2:1.int\n"
        "6,X1:1.int,A1:2\n7,A1:3,P1:x1\n8,P1:x2,G1:-\n"},
       {"p/parts.csv",
        "part,kind,a,b\nG1,supply,+,-\nK1,contact-nc,21,22\nK1,coil,A1,A2\nP1,lamp,x1,x2\n"
        "X1:1,terminal,int,ext\nX2:1,terminal,int,ext\n"},
       {"p/potentials.csv", "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n"},
       {"p/channels.csv",
        "point,type,tag,field,return,sense,sensor\nA1:0,DI,STOPPED,K1:22,K1:21,sink,contact\n"
        "A1:1,DO,MOTOR,K1:A1,K1:A2,,\nA1:2,DI,START,X1:1.ext,X2:1.ext,sink,contact\n"
        "A1:3,DO,LAMP,P1:x1,P1:x2,,\n"}});
  const Netlist netlist = load_netlist("p", {}, files).value();
  const ConductionGraph graph(netlist);
  const Program program = program_of("MOTOR := START; LAMP := NOT STOPPED;", netlist);
  const Drive found =
      drive_output(program, variable_named(program, "LAMP"), graph, fittings_of(graph, nullptr));
  ASSERT_EQ(found.verdict, DriveVerdict::drivable);
  EXPECT_TRUE(found.sources.front().is_inverted);
  ASSERT_EQ(found.steps.size(), 3u);
  EXPECT_FALSE(found.steps[0].is_on);
  EXPECT_EQ(found.steps[1].choice[1], 1);  // the jumper of START
}

}  // namespace
}  // namespace ringtrue::logic
