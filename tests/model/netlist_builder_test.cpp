#include "ringtrue/model/netlist_builder.hpp"

#include <gtest/gtest.h>

#include <array>
#include <deque>
#include <random>
#include <set>
#include <string>
#include <vector>

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

TEST(NetlistBuilder, RatingsMayBearTheirUnits) {
  const auto ohms = [](const std::string& written) {
    const auto made = try_netlist("part K1 coil A1 A2 " + written + "\n");
    return made ? made->parts.front().ohms : -1;
  };
  EXPECT_EQ(ohms("400Ω"), 400);
  EXPECT_EQ(ohms("400ohm"), 400);
  EXPECT_EQ(ohms("400kOhm"), -1);
  EXPECT_EQ(ohms("400V"), -1);
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

// Ends of conductors are interned many at once: whatever stands between them, places are numbered as they are
// first named, and each end keeps its own.
TEST(NetlistBuilder, PlacesAreNumberedInTheOrderInWhichRowsNameThem) {
  std::mt19937 random(20260304);
  std::deque<std::string> kept;
  std::vector<std::string_view> order;
  std::set<std::string_view> seen;
  std::vector<std::array<std::string_view, 2>> wanted;
  const auto named = [&](const std::string& name) {
    const std::string_view text = kept.emplace_back(name);
    if (seen.insert(text).second) order.push_back(text);
    return text;
  };
  const auto any_point = [&] {
    return "K" + std::to_string(random() % 400) + ":" + std::to_string(random() % 9);
  };
  NetlistBuilder builder;
  builder.add_file("in");
  for (std::uint32_t line = 1; line <= 3000; ++line) {
    const std::string id = std::to_string(line);
    if (random() % 40 == 0) {
      const std::string part = "Q" + id;
      PartRow row;
      row.part = kept.emplace_back(part), row.kind = "path", row.a = "1", row.b = "2";
      builder.add(row, {line, 0});
      named(part + ":1"), named(part + ":2");
      continue;
    }
    const bool is_spare = random() % 30 == 0;
    const std::string_view from = named(any_point()), to = is_spare ? "" : named(any_point());
    ConductorRow row;
    row.from = from, row.to = to, row.kind = is_spare ? "core" : "wire", row.id = kept.emplace_back(id);
    builder.add(row, {line, 0});
    wanted.push_back({from, to});
  }
  const auto net = builder.finish();
  ASSERT_TRUE(net) << to_text(net.error().front());
  ASSERT_EQ(net->points.place_count(), order.size());
  for (std::uint32_t i = 0; i < order.size(); ++i) EXPECT_EQ(net->points.place_name(PlaceId{i}), order[i]);
  ASSERT_EQ(net->conductors.size(), wanted.size());
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_EQ(net->points.name(net->conductors[i].from), wanted[i][0]);
    ASSERT_EQ(net->conductors[i].is_spare(), wanted[i][1].empty());
    if (wanted[i][1].empty()) continue;
    EXPECT_EQ(net->points.name(net->conductors[i].to), wanted[i][1]);
  }
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

/// What is said of one row.
template <class Row>
std::vector<std::string> errors_of_row(const Row& row) {
  NetlistBuilder builder;
  builder.add(row, {7, builder.add_file("test.csv")});
  std::vector<std::string> all;
  if (const auto made = builder.finish(); !made)
    for (const Error& error : made.error()) all.push_back(to_text(error));
  return all;
}

TEST(NetlistBuilder, AFieldThatIsMissingIsNamed) {
  using Said = std::vector<std::string>;
  PartRow part;
  part.part = "K1", part.a = "A1", part.b = "A2";
  EXPECT_EQ(errors_of_row(part),
            Said{"test.csv:7: kind: the kind is missing: expected " + listed_words<PartKind>()});
  part.part = "", part.kind = "coil";
  EXPECT_EQ(errors_of_row(part),
            Said{"test.csv:7: part: the part is missing: expected a designation such as K1 or X1:5"});
  ChannelRow channel;
  channel.point = "A1:0.0";
  EXPECT_EQ(errors_of_row(channel),
            Said{"test.csv:7: type: the channel type is missing: expected DI, DO, AI or AO"});
  PotentialRow potential;
  potential.point = "G1:+";
  EXPECT_EQ(errors_of_row(potential),
            (Said{"test.csv:7: name: the potential has no name: expected a name such as +24V",
                  "test.csv:7: kind: the potential has no kind: expected " + listed_words<PotentialKind>()}));
}

// ASTM B258: gauges go from 4/0, the thickest, by 0 to 40 (from memory).
TEST(NetlistBuilder, AGaugeIsOneOfTheTable) {
  const auto said = [](std::string_view gauge) {
    ConductorRow row;
    row.from = "K1:A1", row.to = "K1:A2", row.awg = gauge;
    return errors_of_row(row);
  };
  for (const char* gauge : {"40", "14", "14 AWG", "0", "1/0", "4/0"})
    EXPECT_EQ(said(gauge), std::vector<std::string>()) << gauge;
  for (const std::string gauge : {"41", "-1", "5/0", "0/0", "14.5", "thin"})
    EXPECT_EQ(said(gauge), std::vector<std::string>{"test.csv:7: awg: not a wire gauge: found \"" + gauge +
                                                    "\", expected a gauge from 40 to 0, or 1/0 to 4/0"});
}

TEST(NetlistBuilder, APositionIsAWholeNumberThatAnIntHolds) {
  for (const std::string_view positions : {"1.5", "1e10", "-1e300", "on"}) {
    NetlistBuilder builder;
    PartRow row;
    row.part = "S1", row.kind = "contact-no", row.a = "1", row.b = "2", row.closed_in = positions;
    builder.add(row, {1, builder.add_file("test.csv")});
    const auto made = builder.finish();
    ASSERT_FALSE(made) << positions;
    EXPECT_EQ(to_text(made.error().front()), "test.csv:1: closed_in: not a selector position: found \"" +
                                                 std::string(positions) +
                                                 "\", expected whole numbers such as 0,2");
  }
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
