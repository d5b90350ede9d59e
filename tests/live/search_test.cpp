#include "ringtrue/live/search.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "ringtrue/load/load.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

class Search : public ::testing::Test {
 protected:
  static const Drawing& quickstart() {
    static const Drawing drawing(std::move(load_netlist(RINGTRUE_NETLISTS "/quickstart").value()));
    return drawing;
  }
  static std::vector<std::string> names(const std::vector<Match>& matches) {
    std::vector<std::string> all;
    for (const Match& match : matches) all.push_back(std::string(word(match.kind)) + " " + match.name);
    return all;
  }
  static std::vector<std::string> found(std::string_view text, std::size_t most = 100) {
    return names(search(quickstart(), text, most));
  }
  using Names = std::vector<std::string>;
};

TEST_F(Search, TheNameItselfThenWhatBeginsWithItThenWhatHoldsIt) {
  EXPECT_EQ(found("X1:4"), Names{"point X1:4"});
  const Names by_one = found("1");
  const auto at = [&](const char* name) {
    return std::find(by_one.begin(), by_one.end(), name) - by_one.begin();
  };
  EXPECT_EQ(by_one.front(), "wire 1");
  EXPECT_LT(at("wire 1"), at("wire 10"));
  EXPECT_LT(at("wire 14"), at("point X1:1"));
  EXPECT_LT(at("wire 14"), at("channel HOPPER_FULL")) << "its address holds a 1";
}

TEST_F(Search, InWhateverCase) {
  EXPECT_EQ(found("s1:13"), Names{"point S1:13"});
  EXPECT_EQ(found("hopper_full"), Names{"channel HOPPER_FULL"});
  EXPECT_EQ(found("%ix0.1"), Names{"channel START_AUGER"});
  EXPECT_EQ(found("k1"), found("K1"));
}

TEST_F(Search, ChannelsByTagAddressAndText) {
  EXPECT_EQ(found("START_AUGER"), Names{"channel START_AUGER"});
  EXPECT_EQ(found("%QX1"), (Names{"channel AUGER_RELAY", "channel AUGER_LAMP"}));
  EXPECT_EQ(found("push button"), Names{"channel START_AUGER"});
  const auto auger = found("auger");
  EXPECT_EQ(auger, (Names{"channel AUGER_RELAY", "channel AUGER_LAMP", "channel START_AUGER"}))
      << "what begins with it first; a text that begins with it only holds it";
}

TEST_F(Search, SaysWhatLandsThere) {
  const Match point = search(quickstart(), "X1:4", 1).at(0);
  EXPECT_EQ(point.points, (Names{"X1:4.int", "X1:4.ext"}));
  EXPECT_NE(point.text.find("wire 5 to A1:0.0"), std::string::npos) << point.text;
  const Match wire = search(quickstart(), "14", 1).at(0);
  EXPECT_EQ(wire.name, "14");
  EXPECT_EQ(wire.text, "K1:14 to X1:5.int");
  EXPECT_EQ(wire.sheet, "2.4");
  EXPECT_EQ(wire.points, (Names{"K1:14", "X1:5.int"}));
  const Match channel = search(quickstart(), "HOPPER_FULL", 1).at(0);
  EXPECT_EQ(channel.text, "A1:0.0, Hopper paddle: grain present");
  EXPECT_EQ(channel.points, (Names{"A1:0.0", "X1:4.ext"}));
}

TEST_F(Search, AtMostSoMany) {
  const Names all = found("1");
  ASSERT_GT(all.size(), 5u);
  for (const std::size_t most : {0u, 1u, 3u, 5u})
    EXPECT_EQ(found("1", most), Names(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(most)));
  EXPECT_EQ(found("1", SIZE_MAX), all);
}

TEST_F(Search, HostileTextFindsNothing) {
  for (const std::string& text :
       {std::string(), std::string(1, '\0'), std::string(100'000, 'X'), std::string("\xff\xfe\x80"),
        std::string("' OR 1=1 --"), std::string(".*"), std::string("<b>"), std::string("%s%n")})
    EXPECT_EQ(found(text), Names{}) << text.substr(0, 20);
}

TEST_F(Search, AFewWiresOfManyAreTold) {
  std::string text;
  for (int i = 1; i <= 7; ++i) text += std::to_string(i) + " X1:1.int K" + std::to_string(i) + ":A1\n";
  const Drawing drawing(netlist(text));
  const Match hub = search(drawing, "X1:1", 1).at(0);
  EXPECT_EQ(hub.text, "wire 1 to K1:A1, wire 2 to K2:A1, wire 3 to K3:A1, wire 4 to K4:A1 and 3 more");
}

TEST_F(Search, EveryNameOfTheDemoFindsItself) {
  const Drawing drawing(std::move(load_netlist(RINGTRUE_NETLISTS "/grain-dryer").value()));
  const Netlist& net = drawing.netlist;
  const auto finds = [&](std::string_view text, Match::Kind kind, const std::string& name) {
    const std::vector<Match> matches = search(drawing, text, 1000);
    EXPECT_TRUE(std::any_of(matches.begin(), matches.end(), [&](const Match& match) {
      return match.kind == kind && match.name == name;
    })) << text;
  };
  for (std::uint32_t i = 0; i < net.points.place_count(); ++i)
    finds(net.points.place_name(PlaceId{i}), Match::Kind::point,
          std::string(net.points.place_name(PlaceId{i})));
  for (std::uint32_t i = 0; i < net.conductors.size(); ++i)
    if (!net.conductors[i].is_spare()) finds(net.conductor_name(i), Match::Kind::wire, net.conductor_name(i));
  for (const Channel& channel : net.channels)
    for (const std::string_view text : {channel.tag, channel.address, channel.text})
      if (!text.empty())
        finds(text, Match::Kind::channel, std::string(channel.tag.empty() ? channel.address : channel.tag));
}

}  // namespace
}  // namespace ringtrue::testing
