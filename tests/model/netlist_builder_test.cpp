#include "ringtrue/model/netlist_builder.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing::netlist;
using testing::try_netlist;

std::string ends(const Netlist& net, std::size_t conductor) {
  return net.points.name(net.conductors[conductor].from) + " " +
         net.points.name(net.conductors[conductor].to);
}
std::string first_error(const std::string& text) {
  const auto made = try_netlist(text);
  return made ? "no error" : to_text(made.error().front());
}

TEST(NetlistBuilder, BareTerminalFacesThePanelUnlessTheFieldIsAtTheOtherEnd) {
  const Netlist net = netlist(
      "part X1:1 terminal\n"
      "part B1 contact-no 1 2 - - - field\n"
      "1 K1:A1 X1:1\n"
      "2 X1:1 B1:1\n"
      "3 X1:1 X2:1 core\n");
  EXPECT_EQ(ends(net, 0), "K1:A1 X1:1.int");
  EXPECT_EQ(ends(net, 1), "X1:1.ext B1:1");
  EXPECT_EQ(ends(net, 2), "X1:1.ext X2:1.ext");
}

TEST(NetlistBuilder, WireListAloneTakesDesignationsWithXForTerminals) {
  const Netlist net = netlist("1 K1:A1 X1:1\n2 K9:1.ext K1:A2\n");
  EXPECT_EQ(net.implied_terminals.size(), 2u) << "X1:1 by its letter, K9:1 by the side written out";
  EXPECT_EQ(ends(net, 1), "K9:1.ext K1:A2");
  EXPECT_EQ(net.points.size(), 6u);
}

TEST(NetlistBuilder, SameConductorBothWaysIsOneConductor) {
  const Netlist net = netlist("1 K1:A1 K2:A1\n1 K2:A1 K1:A1\n2 K1:A1 K2:A1\n");
  EXPECT_EQ(net.conductors.size(), 2u);
  EXPECT_EQ(net.conductor_name(1), "2") << "the third row has a number of its own: a second conductor";
  ASSERT_FALSE(net.notes.empty());
  EXPECT_EQ(net.notes.front().text, "conductor 1 is listed twice; counted once");
  EXPECT_EQ(net.notes.front().place.line, 2u);
}

TEST(NetlistBuilder, OnlyACoreMayLieLoose) {
  const Netlist net = netlist("W1 X1:1 - core\n");
  EXPECT_TRUE(net.conductors.front().is_spare());
  EXPECT_EQ(first_error("7 X1:1 -\n"),
            "test.csv:1: to: conductor 7 has an end missing: expected a point at both ends; only a spare "
            "core (kind core) may lie loose");
}

TEST(NetlistBuilder, ABareNameOfASeparableTerminalIsAnError) {
  EXPECT_EQ(first_error("part X1:1 disconnect\n1 K1:A1 X1:1\n"),
            "test.csv:2: to: X1:1 can be parted, so its side must be named: found \"X1:1\", expected "
            "X1:1.int or X1:1.ext");
}

TEST(NetlistBuilder, APinOfAPartHasNoSides) {
  EXPECT_EQ(first_error("part K1 coil A1 A2\n1 K1:A1.int K2:A1\n"),
            "test.csv:1: K1:A1 is a pin of a part, which has no sides: expected the bare name K1:A1");
}

TEST(NetlistBuilder, WrongWordsAndNumbersSayWhatWouldBeRight) {
  EXPECT_EQ(first_error("part K1 contct-no 13 14\n"),
            "test.csv:1: kind: unknown word: found \"contct-no\", expected " + listed_words<PartKind>() +
                "; nearest: contact-no, contact-nc");
  EXPECT_EQ(first_error("part K1 coil A1 A2 many\n"),
            "test.csv:1: ohms: not a number that fits here: found \"many\", expected a number of at least 0");
  EXPECT_EQ(first_error("part K1 coil A1\n"),
            "test.csv:1: b: part K1 has a pin missing: expected the pins of both ends, such as 13 and 14");
}

TEST(NetlistBuilder, MistakesAreGatheredAndNothingIsHalfLoaded) {
  std::string text;
  for (int i = 0; i < 80; ++i) text += "1 K1:A1 -\n";
  const auto made = try_netlist(text);
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().size(), k_max_errors);
}

}  // namespace
}  // namespace ringtrue
