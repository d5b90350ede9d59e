#include <gtest/gtest.h>

#include "ringtrue/logic/program.hpp"
#include "tests/logic/panel.hpp"

namespace ringtrue::logic {
namespace {

struct Bad {
  std::string text, sentence;
};

TEST(LogicMistakes, LinesMayEndInAnyWay) {
  const Netlist panel = logic_panel();
  for (const std::string end : {"\n", "\r\n", "\r"}) {
    const std::string text = "// LAMP" + end + "(* a" + end + "b *)" + end;
    const auto program = parse_logic(text + "LAMP := A;" + end, "p.st", panel);
    ASSERT_TRUE(program);
    ASSERT_EQ(program->statements.size(), 1u);
    EXPECT_EQ(program->statements[0].line, 4u);
    EXPECT_EQ(to_text(parse_logic(text + "LAMP := ;", "p.st", panel).error().front()).substr(0, 7),
              "p.st:4:");
  }
}

TEST(LogicMistakes, BytesThatAreNoTextAreToldByTheirNumber) {
  const Netlist panel = logic_panel();
  const auto sentence = [&](std::string_view text) {
    return to_text(parse_logic(text, "p.st", panel).error().front());
  };
  using namespace std::string_view_literals;
  const std::string utf16 =
      "p.st:1: the logic is not UTF-8: found \"UTF-16\", expected the file saved or exported again as UTF-8";
  for (const std::string_view text : {"\xFF\xFEL\0"sv, "\xFE\xFF\0L"sv, "L\0A\0"sv, "\0L\0A"sv})
    EXPECT_EQ(sentence(text), utf16);
  const std::string known_not = "p.st:1: a character that Structured Text does not know here: found \"";
  const std::string expected = "\", expected a name, a number or an operator";
  EXPECT_EQ(sentence("LAMP := \x1b[31mA;"), known_not + "byte 1B (hexadecimal)" + expected);
  EXPECT_EQ(sentence("LAMP := \xFC;"), known_not + "byte FC (hexadecimal)" + expected);
  EXPECT_EQ(sentence("LAMP := ü;"), known_not + "ü" + expected);
  EXPECT_EQ(sentence("LAMP := " + std::string(10'000, 'A') + ";").substr(0, 129),
            "p.st:1: an unknown name: found \"" + std::string(80, 'A') + "...\", expected a ");
}

// Every sentence names file, line, what was found and what was expected.
TEST(LogicMistakes, EachHasItsSentence) {
  const Netlist panel = logic_panel();
  const std::vector<Bad> all = {
      {"LAMP := A AND AA;",
       "p.st:1: an unknown name: found \"AA\", expected a tag or address of the channel list, or a name of a "
       "VAR block; nearest: A"},
      {"LAMPE := A;",
       "p.st:1: an unknown name is assigned: found \"LAMPE\", expected a digital output or a BOOL of a VAR "
       "block; nearest: LAMP"},
      {"A := TRUE;",
       "p.st:1: something is assigned that logic of this kind does not set: found \"A\", expected a digital "
       "output or a BOOL of a VAR block"},
      {"SPEED := TRUE;",
       "p.st:1: something is assigned that logic of this kind does not set: found \"SPEED\", expected a "
       "digital output or a BOOL of a VAR block"},
      {"\n\nLAMP := A B;", "p.st:3: the statement does not go on as it should: found \"B\", expected ;"},
      {"LAMP := (A OR B;", "p.st:1: the statement does not go on as it should: found \";\", expected )"},
      {"LAMP := A AND;",
       "p.st:1: an operand is missing: found \";\", expected a tag, an address, a BOOL, TRUE, FALSE, NOT or "
       "("},
      {"LAMP := A",
       "p.st:1: the statement does not go on as it should: found \"the end of the file\", expected ;"},
      {"LAMP := LEVEL;",
       "p.st:1: a number stands where TRUE or FALSE is wanted: found \"LEVEL\", expected a comparison such "
       "as TEMPERATURE > 80.0"},
      {"LAMP := A AND LEVEL;",
       "p.st:1: an operator between BOOLs has a number beside it: found \"AND\", expected a BOOL on both "
       "sides"},
      {"LAMP := A > 3;",
       "p.st:1: a comparison of other things than an analog input and a constant: found \">\", expected an "
       "analog input on one side and a number or a REAL of a VAR block on the other"},
      {"LAMP := NOT LEVEL > 3;", "p.st:1: NOT stands before a number: found \"NOT\", expected a BOOL"},
      {"IF A THEN LAMP := B; END_IF;",
       "p.st:1: branches and loops are not read here: found \"IF\", expected NAME := EXPRESSION; or "
       "BLOCK(PIN "
       ":= EXPRESSION, ...);"},
      {"LAMP := LEVEL + 1.0 > 3;",
       "p.st:1: arithmetic is not read here: found \"+\", expected AND, OR, XOR, NOT or a comparison with a "
       "constant"},
      {"LAMP := A * B;",
       "p.st:1: arithmetic is not read here: found \"*\", expected AND, OR, XOR, NOT or a comparison with a "
       "constant"},
      {"LAMP := #;",
       "p.st:1: a character that Structured Text does not know here: found \"#\", expected a name, a number "
       "or an operator"},
      {"(* open\n", "p.st:1: a comment is not closed before the end of the file: expected *)"},
      {"VAR x : INT; END_VAR",
       "p.st:1: a type that is not read here: found \"INT\", expected BOOL, REAL, TIME, SR, RS, R_TRIG, "
       "F_TRIG, TON, TOF or TP"},
      {"VAR a : BOOL; END_VAR",
       "p.st:1: a name is declared that already stands for something: found \"a\", expected a name of its "
       "own"},
      {"VAR x : BOOL := 1; END_VAR",
       "p.st:1: not an initial value of a BOOL: found \"1\", expected TRUE or FALSE"},
      {"VAR x : REAL := TRUE; END_VAR",
       "p.st:1: not a number: found \"TRUE\", expected a number such as 80.0"},
      {"VAR t : TON; END_VAR t(IN := A, PT := 5);",
       "p.st:1: not a duration: found \"5\", expected a duration of whole milliseconds such as T#5s, up to "
       "24 days, or a TIME of a VAR block"},
      {"VAR t : TON; END_VAR t(CLK := A);", "p.st:1: not a pin of TON: found \"CLK\", expected IN, PT"},
      {"VAR t : TON; END_VAR t(IN := A, IN := B);",
       "p.st:1: a pin is given twice: found \"IN\", expected each pin once"},
      {"VAR t : TON; END_VAR t(IN := A); t(IN := B);",
       "p.st:1: a function block is called at a second place: found \"t\", expected one call of each "
       "instance"},
      {"VAR t : TON; END_VAR LAMP := t.ET;",
       "p.st:1: not an output of TON that is read here: found \"ET\", expected Q"},
      {"VAR t : TON; END_VAR LAMP := t;",
       "p.st:1: a function block stands where a BOOL is wanted: found \";\", expected t.Q"},
      {"BLINK(IN := A);",
       "p.st:1: a call of something that is no function block: found \"BLINK\", expected an instance "
       "declared in a VAR block"},
      {"VAR w : TIME := T#1s; END_VAR LAMP := w;",
       "p.st:1: a name that is no BOOL and no analog input: found \"w\", expected a digital channel, an "
       "analog input or a BOOL"},
      {"LAMP := SPEED;",
       "p.st:1: a name that is no BOOL and no analog input: found \"SPEED\", expected a digital channel, an "
       "analog input or a BOOL"},
      {"LAMP := LEVEL > 1e;", "p.st:1: the statement does not go on as it should: found \"e\", expected ;"},
      {"LAMP := LEVEL > 1e999;", "p.st:1: not a number: found \"1e999\", expected a number such as 80.0"},
      {"VAR 5 : BOOL; END_VAR",
       "p.st:1: a declaration does not begin with a name: found \"5\", expected NAME : TYPE;"},
      {"VAR AND : BOOL; END_VAR",
       "p.st:1: a declaration does not begin with a name: found \"AND\", expected NAME : TYPE;"},
      {"VAR t : TON := TRUE; END_VAR",
       "p.st:1: a function block takes no initial value: found \"TRUE\", expected ;"},
      {"VAR x : BOOL;",
       "p.st:1: the statement does not go on as it should: found \"the end of the file\", expected END_VAR"},
      {"PROGRAM dryer\nLAMP := A;\nEND_PROGRAM\nLAMP := B;",
       "p.st:4: text stands behind the end of the program: found \"LAMP\", expected the end of the file"},
  };
  for (const Bad& bad : all) {
    const auto program = parse_logic(bad.text, "p.st", panel);
    ASSERT_FALSE(program) << bad.text;
    EXPECT_EQ(to_text(program.error().front()), bad.sentence) << bad.text;
    EXPECT_EQ(program.error().front().code, ErrorCode::bad_logic);
  }
}

TEST(LogicMistakes, SeveralAreToldAtOnce) {
  const auto program = parse_logic("LAMP := X1;\nLAMP := A;\nLAMP := X2;\n", "p.st", logic_panel());
  ASSERT_FALSE(program);
  ASSERT_EQ(program.error().size(), 2u);
  EXPECT_EQ(program.error()[1].place.line, 3u);
}

TEST(LogicMistakes, ABranchIsToldOnce) {
  const auto program = parse_logic("IF A THEN\n LAMP := B;\nEND_IF;\nLAMP := C;\n", "p.st", logic_panel());
  ASSERT_FALSE(program);
  EXPECT_EQ(program.error().size(), 1u);
}

TEST(LogicMistakes, DeepNestingIsRefused) {
  const std::string deep = "LAMP := " + std::string(100'000, '(') + "A" + std::string(100'000, ')') + ";";
  const auto program = parse_logic(deep, "p.st", logic_panel());
  ASSERT_FALSE(program);
  EXPECT_EQ(program.error().front().message, "an expression is nested too deeply");
}

TEST(LogicMistakes, TwoHundredLevelsAreReadAndOneMoreIsNot) {
  const Netlist panel = logic_panel();
  const auto brackets = [](std::size_t levels) {
    return "LAMP :=\n" + std::string(levels, '(') + "A" + std::string(levels, ')') + ";";
  };
  const auto nots = [](std::size_t levels) {
    std::string text = "LAMP :=\n";
    for (std::size_t i = 0; i < levels; ++i) text += "NOT ";
    return text + "A;";
  };
  EXPECT_TRUE(parse_logic(brackets(200), "p.st", panel));
  EXPECT_TRUE(parse_logic(nots(200), "p.st", panel));
  for (const auto& [text, found] :
       {std::pair(brackets(201), std::string("(")), std::pair(nots(201), std::string("NOT"))}) {
    const auto program = parse_logic(text, "p.st", panel);
    ASSERT_FALSE(program);
    ASSERT_EQ(program.error().size(), 1u);
    EXPECT_EQ(to_text(program.error().front()), "p.st:2: an expression is nested too deeply: found \"" +
                                                    found + "\", expected at most 200 levels");
  }
}

/// Which of the two is meant can't be known, be it read or assigned.
TEST(LogicMistakes, ANameOfTwoChannelsIsTold) {
  Netlist panel = logic_panel();
  panel.channels[1].tag = "a";
  panel.channels[k_lamp + 1].tag = "Lamp";
  const auto told = [&](std::string_view text) {
    const auto program = parse_logic(text, "p.st", panel);
    return program ? "" : to_text(program.error().front());
  };
  const std::string of_two = "p.st:1: two channels have this name, apart from case: found \"",
                    expected = "\", expected an address, or a tag of its own";
  EXPECT_EQ(told("%QX0.0 := A;"), of_two + "A" + expected);
  EXPECT_EQ(told("LAMP := C;"), of_two + "LAMP" + expected);
  EXPECT_EQ(told("%QX0.0 := %IX0.0 AND NOT %IX0.1;"), "");
}

/// Cut anywhere, a program is read or refused, and nothing else.
TEST(LogicMistakes, CutAtEveryLength) {
  const std::string text =
      "VAR t : TON; k : REAL := 2.5; END_VAR\nt(IN := A OR NOT B, PT := T#5s);\nLAMP := t.Q AND LEVEL > k; "
      "// end\n";
  for (std::size_t length = 0; length <= text.size(); ++length) {
    const auto program = parse_logic(std::string_view(text).substr(0, length), "p.st", logic_panel());
    if (!program) {
      EXPECT_FALSE(program.error().empty()) << length;
    }
  }
}

}  // namespace
}  // namespace ringtrue::logic
