// The channel list, and what channels say of their current.
#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;

DrawingFiles drawing(std::string conductors, std::string channels) {
  DrawingFiles files;
  files.conductors = "wire,from,to\n" + conductors;
  files.channels = std::move(channels);
  return files;
}

DrawingFiles fed(std::string conductors, std::string channels) {
  DrawingFiles files = drawing(std::move(conductors) + "8,G1:+,G2:+\n9,G1:-,G2:-\n", std::move(channels));
  files.potentials = "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n";
  return files;
}

const std::string k_two = "1,A1:0,X1:1.int\n2,A1:1,X1:2.int\n";

TEST(CheckChannels, UnconnectedChannel) {
  expect_rule({"unconnected-channel", drawing("1,A1:9,A2:1\n", "point,type,tag\nA1:0,DI,FULL\n"),
               drawing("1,A1:9,A2:1\n", "point,type,tag\nA1:0,DI,\n")});
}

TEST(CheckChannels, ChannelWithoutFieldTerminal) {
  expect_rule({"channel-without-field-terminal", drawing("1,A1:0,A2:1\n", "point,type\nA1:0,DI\n"),
               drawing("1,A1:0,X1:1.int\n", "point,type\nA1:0,DI\n")});
}

TEST(CheckChannels, ChannelListDisagrees) {
  expect_rule({"channel-list-disagrees", drawing(k_two, "point,type,field\nA1:0,DI,X1:2.ext\n"),
               drawing(k_two, "point,type,field\nA1:0,DI,X1:1.ext\n")});
}

TEST(CheckChannels, TwoChannelsOnOneNet) {
  const std::string channels = "point,type\nA1:0,DI\nA1:1,DI\n";
  expect_rule({"two-channels-on-one-net", drawing("1,A1:0,X1:1.int\n2,A1:1,X1:1.int\n", channels),
               drawing(k_two, channels)});
}

TEST(CheckChannels, DuplicateAddress) {
  const std::string first = "point,type,address\nA1:0,DI,%IX0.0\nA1:1,DI,";
  expect_rule({"duplicate-address", drawing(k_two, first + "%IX0.0\n"), drawing(k_two, first + "%IX0.1\n")});
}

TEST(CheckChannels, DuplicateTag) {
  const std::string first = "point,type,tag\nA1:0,DI,FULL\nA1:1,DI,";
  expect_rule({"duplicate-tag", drawing(k_two, first + "FULL\n"), drawing(k_two, first + "Full\n")});
}

// IEC 61131-2 (from memory): a sinking input's common is at minus, a sourcing output's at plus.
TEST(CheckSignals, SenseAgainstWiring) {
  const std::string wires = "1,A1:0,X1:1.int\n2,A1:M,";
  const auto channel = [](const std::string& type, const std::string& sense) {
    return "point,type,field,common,sense\nA1:0," + type + ",X1:1.ext,A1:M," + sense + "\n";
  };
  expect_rule({"sense-against-wiring", fed(wires + "G1:+\n", channel("DI", "sink")),
               fed(wires + "G1:-\n", channel("DI", "sink"))});
  expect_rule({"sense-against-wiring", fed(wires + "G1:-\n", channel("DO", "source")),
               fed(wires + "G1:+\n", channel("DO", "source"))});
  expect_rule({"sense-against-wiring", fed(wires + "G1:-\n", channel("DI", "source")),
               fed(wires + "A2:1\n", channel("DI", "source"))});
}

TEST(CheckSignals, ReturnAgainstSense) {
  const std::string wires = "1,A1:0,X1:1.int\n2,X1:2.int,";
  const std::string channel = "point,type,field,return,sense\nA1:0,DI,X1:1.ext,X1:2.ext,sink\n";
  expect_rule({"sense-against-wiring", fed(wires + "G1:-\n", channel), fed(wires + "G1:+\n", channel)});
}

TEST(CheckSignals, SensorAgainstChannel) {
  const auto channel = [](const std::string& type, const std::string& words) {
    return drawing(k_two, "point,type,sense,sensor\nA1:0," + type + "," + words + "\n");
  };
  expect_rule({"sensor-against-channel", channel("DI", "sink,npn"), channel("DI", "sink,pnp")});
  expect_rule({"sensor-against-channel", channel("DI", "source,pnp"), channel("DI", "source,npn")});
  expect_rule({"sensor-against-channel", channel("DO", ",contact"), channel("DI", ",contact")});
}

TEST(CheckSignals, FeedAgainstChannel) {
  const auto loop = [](const std::string& pole, const std::string& words) {
    return fed(
        "1,A1:0,X1:1.int\n2,X1:2.int,G1:" + pole + "\n",
        "point,type,field,return,signal,feed,sensor,sense\nA1:0,AI,X1:1.ext,X1:2.ext,4-20mA," + words + "\n");
  };
  expect_rule({"feed-against-channel", loop("-", "passive,,"), loop("+", "passive,,")});
  expect_rule({"feed-against-channel", loop("+", "active,,"), loop("-", "active,,")});
  expect_rule({"feed-against-channel", loop("-", "active,two-wire,"), loop("-", "passive,two-wire,source")});
}

}  // namespace
}  // namespace ringtrue
