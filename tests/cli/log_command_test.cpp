#include "cli/log/command.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "tests/support/random_netlist.hpp"

namespace ringtrue::cli::log {
namespace {

using ::testing::HasSubstr;

/// What a line was taken for, in one text.
struct Told {
  std::string operator()(const Nothing&) const { return "nothing"; }
  std::string operator()(const Take& c) const {
    return "take [" + c.from + "][" + c.to + "][" + c.value + "]";
  }
  std::string operator()(const Ask& c) const { return "ask [" + c.from + "][" + c.to + "]"; }
  std::string operator()(const When& c) const { return "when [" + c.condition + "]"; }
  std::string operator()(const TakeOver&) const { return "take over"; }
  std::string operator()(const Skip&) const { return "skip"; }
  std::string operator()(const ShowNext& c) const { return "next " + std::to_string(c.most); }
  std::string operator()(const Undo& c) const { return "undo [" + c.id + "]"; }
  std::string operator()(const Correct& c) const { return "correct [" + c.value + "][" + c.id + "]"; }
  std::string operator()(const ShowFindings&) const { return "findings"; }
  std::string operator()(const LogRepair& c) const { return "repair " + std::to_string(c.finding); }
  std::string operator()(const LogChange& c) const { return "changed [" + c.points + "][" + c.text + "]"; }
  std::string operator()(const EndChange& c) const { return "undone " + std::to_string(c.change); }
  std::string operator()(const LogIo& c) const {
    return "io [" + c.channel + "][" + c.stimulus + "][" + c.verdict + "] at=" + c.at + " given=" + c.given +
           " expected=" + c.expected + " led=" + c.led + " bit=" + c.bit + " value=" + c.value +
           " only_this=" + c.only_this + " reason=" + c.reason;
  }
  std::string operator()(const ShowTest& c) const { return "test [" + c.channel + "]"; }
  std::string operator()(const Put& c) const {
    return "put " + std::to_string(static_cast<int>(c.field)) + " [" + c.text + "]";
  }
  std::string operator()(const ShowState&) const { return "state"; }
  std::string operator()(const ShowLast& c) const { return "last " + std::to_string(c.most); }
  std::string operator()(const ShowHelp&) const { return "help"; }
  std::string operator()(const Quit&) const { return "quit"; }
};

std::string told(std::string_view line) {
  const auto command = parse_line(line);
  return command ? std::visit(Told{}, *command) : "error: " + to_text(command.error().front());
}

TEST(LogCommand, AReadingIsTwoPointsAndAValue) {
  EXPECT_EQ(told("x1:5 k3:a1 b"), "take [x1:5][k3:a1][beep]");
  EXPECT_EQ(told("  X1:5.int\tK3:A1   O \r"), "take [X1:5.int][K3:A1][open]");
  EXPECT_EQ(told("x1:5 k3:a1 BEEP"), "take [x1:5][k3:a1][BEEP]");
  EXPECT_EQ(told("x1:5 k3:a1 ol"), "take [x1:5][k3:a1][ol]");
  EXPECT_EQ(told("x1:5 k3:a1 1.5k"), "take [x1:5][k3:a1][1.5k]");
  EXPECT_EQ(told("x1:5 k3:a1 2,2"), "take [x1:5][k3:a1][2,2]");
  EXPECT_EQ(told("12@X1:5 k3:a1 b"), "take [12@X1:5][k3:a1][beep]");
  // As the log itself writes it.
  EXPECT_EQ(told("X1:5 to K3:A1 beep"), "take [X1:5][K3:A1][beep]");
}

TEST(LogCommand, ANameWithBlanksStandsInQuotationMarks) {
  EXPECT_EQ(told("\"FAN ON\" x1:5 b"), "take [FAN ON][x1:5][beep]");
  EXPECT_EQ(told("x1:5 to \"FAN ON\" beep"), "take [x1:5][FAN ON][beep]");
  EXPECT_EQ(told("\"FAN ON\" b"), "take [FAN ON][][beep]");
  EXPECT_EQ(told("\"FAN ON\""), "ask [FAN ON][]");
  EXPECT_EQ(told("expect \"FAN ON\" x1:5"), "ask [FAN ON][x1:5]");
  EXPECT_EQ(told("wire \"12 A\" 0.4 ohm"), "take [12 A][][0.4 ohm]");
  EXPECT_THAT(told("wire \"12 A\" pushed hard"), HasSubstr("found \"pushed hard\""));
  EXPECT_EQ(told("\"undo\" b"), "take [undo][][beep]") << "a wire with the name of a command";
  EXPECT_THAT(told("\"FAN ON\" lit dark bit=1"),
              HasSubstr("io [FAN ON][][] at= given= expected= led=lit bit=1"));
  EXPECT_EQ(told("changed \"FAN 1:1; x1:5\" bridge \"BR 1\" is out"),
            "changed [FAN 1:1; x1:5][bridge \"BR 1\" is out]");
  EXPECT_EQ(told("changed x1:5 \"BR 1\" is out"), "changed [x1:5][\"BR 1\" is out]");
  EXPECT_EQ(told("changed x1:5 \"is out\""), "changed [x1:5][is out]");
  // One mark alone is a part of the name, as it always was.
  EXPECT_EQ(told("\"FAN x1:5 b"), "take [\"FAN][x1:5][beep]");
  EXPECT_EQ(told("\"\" x1:5 b"), "take [\"\"][x1:5][beep]");
}

// Lines of nothing but what parts words: whatever is typed is a command or one sentence on what it lacks.
TEST(LogCommand, AnyLineIsTakenOrTold) {
  constexpr std::string_view k_typed[] = {"\"", " ",    ";",       "=",  "\t",     "#",       "x1:5",
                                          "b",  "wire", "changed", "io", "expect", "correct", "1"};
  const unsigned seed = testing::test_seed();
  std::mt19937 random(seed);
  std::size_t told_of = 0;
  for (int round = 0; round < 20'000; ++round) {
    std::string line;
    for (auto words = random() % 9; words > 0; --words) line += k_typed[random() % std::size(k_typed)];
    const auto command = parse_line(line);
    if (command) continue;
    ASSERT_EQ(command.error().size(), 1u) << line << ", seed " << seed;
    ASSERT_FALSE(command.error().front().message.empty()) << line << ", seed " << seed;
    ++told_of;
  }
  EXPECT_GT(told_of, 100u);
}

TEST(LogCommand, AValueOfTwoWordsIsNotTheLastOfThem) {
  EXPECT_EQ(told("x1:5 k3:a1 no beep"), "take [x1:5][k3:a1][no beep]");
  EXPECT_EQ(told("504 kein Durchgang"), "take [504][][kein Durchgang]");
  EXPECT_EQ(told("no beep"), "take [][][no beep]");
}

TEST(LogCommand, ANumberMayStandApartFromItsUnit) {
  EXPECT_EQ(told("x1:5 k3:a1 680 ohm"), "take [x1:5][k3:a1][680 ohm]");
  EXPECT_EQ(told("x1:5 k3:a1 680 \xCE\xA9"), "take [x1:5][k3:a1][680 \xCE\xA9]");
  EXPECT_EQ(told("504 2.2 kOhm"), "take [504][][2.2 kOhm]");
  EXPECT_EQ(told("x1:5 23.9 V"), "take [x1:5][][23.9 V]");
}

TEST(LogCommand, AWireOrAPointAndAValue) {
  EXPECT_EQ(told("504 b"), "take [504][][beep]");
  EXPECT_EQ(told("504 505"), "take [504][][505]");
  EXPECT_EQ(told("x1:5 lit"), "take [x1:5][][lit]");
  EXPECT_EQ(told("wire next o"), "take [next][][open]");
  EXPECT_EQ(told("wire 504 2 ohm"), "take [504][][2 ohm]");
}

TEST(LogCommand, AValueAloneIsThatOfTheReadingProposed) {
  EXPECT_EQ(told("b"), "take [][][beep]");
  EXPECT_EQ(told("O"), "take [][][open]");
  EXPECT_EQ(told("0.4"), "take [][][0.4]");
  EXPECT_EQ(told("0.4 ohm"), "take [][][0.4 ohm]");
}

TEST(LogCommand, WithoutAValueItIsAQuestion) {
  EXPECT_EQ(told("x1:5 k3:a1"), "ask [x1:5][k3:a1]");
  EXPECT_EQ(told("w504"), "ask [w504][]");
  EXPECT_EQ(told("expect 504"), "ask [504][]");
  EXPECT_EQ(told("expect x1:5 504"), "ask [x1:5][504]");
  EXPECT_EQ(told("wire next"), "ask [next][]");
}

TEST(LogCommand, EmptyLinesAndRemarksAreNothing) {
  EXPECT_EQ(told(""), "nothing");
  EXPECT_EQ(told(" \t\r"), "nothing");
  EXPECT_EQ(told("# x1:5 k3:a1 b"), "nothing");
}

TEST(LogCommand, CommandsInAnyCase) {
  EXPECT_EQ(told("when S1=operated; F3=out"), "when [S1=operated; F3=out]");
  EXPECT_EQ(told("Rest"), "when []");
  EXPECT_EQ(told("SET"), "take over");
  EXPECT_EQ(told("skip"), "skip");
  EXPECT_EQ(told("next"), "next 5");
  EXPECT_EQ(told("next 12"), "next 12");
  EXPECT_EQ(told("last 3"), "last 3");
  EXPECT_EQ(told("undo"), "undo []");
  EXPECT_EQ(told("undo R12"), "undo [R12]");
  EXPECT_EQ(told("correct o"), "correct [open][]");
  EXPECT_EQ(told("correct 0.4 12"), "correct [0.4][12]");
  EXPECT_EQ(told("correct 680 ohm R7"), "correct [680 ohm][R7]");
  EXPECT_EQ(told("findings"), "findings");
  EXPECT_EQ(told("repair 2"), "repair 2");
  EXPECT_EQ(told("undone 1"), "undone 1");
  EXPECT_EQ(told("by Wireman A"), "put 0 [Wireman A]");
  EXPECT_EQ(told("meter"), "put 1 []");
  EXPECT_EQ(told("witness B"), "put 2 [B]");
  EXPECT_EQ(told("note clamp  was loose"), "put 3 [clamp  was loose]");
  EXPECT_EQ(told("state"), "state");
  EXPECT_EQ(told("help"), "help");
  EXPECT_EQ(told("quit"), "quit");
}

TEST(LogCommand, AChangeIsPointsAndAText) {
  EXPECT_EQ(told("changed X1:5.int lifted for a test"), "changed [X1:5.int][lifted for a test]");
  EXPECT_EQ(told("changed X1:5;K1:A1 jumper"), "changed [X1:5;K1:A1][jumper]");
  EXPECT_EQ(told("changed X1:5; K1:A1; K2:A1 jumper on"), "changed [X1:5; K1:A1; K2:A1][jumper on]");
}

TEST(LogCommand, AResultHasFieldsBehindTheVerdict) {
  EXPECT_EQ(
      told("io HOPPER_FULL Jumper PASS led=lit bit=1 expected=LED 3 lights only_this=yes"),
      "io [HOPPER_FULL][jumper][pass] at= given= expected=LED 3 lights led=lit bit=1 value= only_this=yes "
      "reason=");
  EXPECT_EQ(told("io A1:1.1 forced fail reason=stays dark, P1 = old"),
            "io [A1:1.1][forced][fail] at= given= expected= led= bit= value= only_this= reason=stays dark, "
            "P1 = old");
}

TEST(LogCommand, AChannelThatWasTriedIsToldFromAReading) {
  const auto io = [](const std::string& rest) { return "io [HOPPER_FULL][][] at= given= expected=" + rest; };
  EXPECT_EQ(told("HOPPER_FULL lit dark"), io(" led=lit bit= value= only_this= reason="));
  EXPECT_EQ(told("HOPPER_FULL lit bit=1 only=y"), io(" led=lit bit=1 value= only_this=yes reason="));
  EXPECT_EQ(told("io HOPPER_FULL dark"), io(" led=dark bit= value= only_this= reason="));
  EXPECT_EQ(told("HOPPER_FULL 23.8V only=N reason=lit by K2 too"),
            io(" led= bit= value=23.8v only_this=no reason=lit by K2 too"));
  EXPECT_EQ(told("HOPPER_FULL lit"), "take [HOPPER_FULL][][lit]") << "a reading stays a reading";
  EXPECT_EQ(told("HOPPER_FULL dark"), "take [HOPPER_FULL][][dark]");
  EXPECT_EQ(told("HOPPER_FULL 23.8V"), "take [HOPPER_FULL][][23.8V]");
  EXPECT_EQ(told("=A1+K1-X1:5 K3:A1 b"), "take [=A1+K1-X1:5][K3:A1][beep]") << "a designation has = too";

  const auto analog = std::get<LogIo>(*parse_line("MOISTURE 0=4 50=12,1 raw tolerance=0.2 unproven=Ann"));
  ASSERT_EQ(analog.points.size(), 2u);
  EXPECT_EQ(analog.points[1], (std::pair<std::string, std::string>{"50", "12,1"}));
  EXPECT_EQ(analog.seen_as + analog.tolerance + analog.unproven, "raw0.2Ann");
  const auto output = std::get<LogIo>(*parse_line("io FAN nothing forced on=23 off=0"));
  EXPECT_EQ(output.responded + output.stimulus + output.on + output.off, "noforced230");
  EXPECT_EQ(told("test FAN"), "test [FAN]");
}

TEST(LogCommand, APercentageMayBeWrittenWithItsSign) {
  for (const char* line : {"MOISTURE 50%=24,1 75=32", "io MOISTURE 50=24,1 75%=32"}) {
    const auto command = parse_line(line);
    ASSERT_TRUE(command) << line;
    ASSERT_TRUE(std::holds_alternative<LogIo>(*command)) << line;
    const std::vector<std::pair<std::string, std::string>> points = {{"50", "24,1"}, {"75", "32"}};
    EXPECT_EQ(std::get<LogIo>(*command).points, points) << line;
  }
}

TEST(LogCommand, WhatIsSaidTwiceIsNotGuessed) {
  for (const char* line : {"io A1:0 lit dark lit", "io A1:0 lit led=dark", "io A1:0 lit dark bit=1 bit=0",
                           "io A1:0 lit pass fail", "io A1:0 on=24 on=0 off=24", "io A1:0 responded nothing",
                           "io A1:0 lit only=yes only_this=no", "io A1:0 lit jumper operated",
                           "io A1:0 responded 24V 0V", "io A1:0 lit reason=a reason=b"})
    EXPECT_THAT(told(line), ::testing::StartsWith("error: this says again what was said before it")) << line;
}

TEST(LogCommand, WhatIsWrongIsSaid) {
  EXPECT_EQ(
      told("x1:5 k3:a1 peep"),
      "error: not a value: found \"peep\", expected b, o, OL, ohms such as 0.4 or 1.5k, 23.9V, lit or dark");
  EXPECT_EQ(told("x1:5 and k3:a1 b"),
            "error: too many words: found \"x1:5 and k3:a1 b\", expected FROM TO VALUE, WIRE VALUE, a value "
            "alone, or "
            "help");
  EXPECT_EQ(told("repair"), "error: repair takes a whole number: expected the number of a finding");
  EXPECT_EQ(told("repair 0"),
            "error: repair takes a whole number: found \"0\", expected the number of a finding");
  EXPECT_EQ(told("undone 1x"),
            "error: undone takes a whole number: found \"1x\", expected the number of an open change");
  EXPECT_EQ(told("when"),
            "error: when lacks a condition such as S1=operated: expected a condition such as S1=operated");
  EXPECT_EQ(told("rest now"), "error: rest stands alone: found \"now\", expected nothing behind it");
  EXPECT_EQ(told("by"), "error: by lacks a name: expected a name");
  EXPECT_EQ(told("correct"), "error: correct lacks the right value: expected the right value");
  EXPECT_EQ(
      told("correct R7"),
      "error: not a value: found \"R7\", expected b, o, OL, ohms such as 0.4 or 1.5k, 23.9V, lit or dark");
  EXPECT_EQ(told("changed X1:5"),
            "error: changed lacks what was done, behind the points: expected what was done, "
            "behind the points");
  EXPECT_EQ(
      told("io START_AUGER"),
      "error: io lacks a channel, or what was seen: found \"START_AUGER\", expected CHANNEL lit dark bit=1 "
      "only=yes, CHANNEL 50=12.1, or CHANNEL on=23.9 off=0.1");
  EXPECT_EQ(
      told("io START_AUGER operated pass bright"),
      "error: nothing that a test shows: found \"bright\", expected lit, dark, bit=, only=, 50=, on=, off=, "
      "responded, nothing, unproven= or reason=");
  EXPECT_THAT(told("START_AUGER lit dark lit bit=1"),
              ::testing::StartsWith("error: this says again what was said before it"));
}

}  // namespace
}  // namespace ringtrue::cli::log
