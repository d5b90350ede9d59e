#include <gmock/gmock.h>

#include "ringtrue/io/analog.hpp"
#include "ringtrue/load/load.hpp"

namespace ringtrue {
namespace {

using testing::DoubleNear;
using testing::Pointwise;

struct Written {
  const char* point;
  Simulator simulator;
  const char *plus, *minus, *further;
  std::vector<double> signal, value;
};

const std::vector<double> k_milliamps = {4, 8, 12, 16, 20}, k_volts = {0, 2.5, 5, 7.5, 10};
const std::vector<double> k_percent = {0, 25, 50, 75, 100}, k_hertz = {0, 12.5, 25, 37.5, 50};
const std::vector<double> k_moisture = {8, 16, 24, 32, 40};

/// Every AI and AO of the grain dryer, worked out by hand from its channel list and sheets 14 to 16. Counts
/// are 0, 8000, 16000, 24000, 32000 for all of them. Ohms: R = 100 (1 + 3.9083e-3 t - 5.775e-7 t²).
const std::vector<Written> k_written = {
    {"A5:0+", Simulator::transmitter, "X5:1.ext", "X5:5.ext", "", k_milliamps, k_moisture},
    {"A5:1+", Simulator::transmitter, "X5:2.ext", "X5:6.ext", "", k_milliamps, k_moisture},
    {"A5:2+", Simulator::transmitter, "X5:3.ext", "X5:7.ext", "", k_milliamps, {0, 625, 1250, 1875, 2500}},
    {"A5:3+", Simulator::transmitter, "X5:4.ext", "X5:8.ext", "", k_milliamps, k_percent},
    {"A6:0+", Simulator::current_source, "X5:9.ext", "X5:10.ext", "", k_milliamps, {0, 15, 30, 45, 60}},
    {"A6:1+", Simulator::current_source, "X5:11.ext", "X5:12.ext", "", k_milliamps, {0, 30, 60, 90, 120}},
    {"A6:2+",
     Simulator::resistance_decade,
     "X5:13.ext",
     "X5:14.ext",
     "X5:15.ext B17:3",
     {100, 114.575, 128.987, 143.237, 157.325},
     {0, 37.5, 75, 112.5, 150}},
    {"A6:3+",
     Simulator::resistance_decade,
     "X5:16.ext",
     "X5:17.ext",
     "X5:18.ext B18:3",
     {100, 109.735, 119.397, 128.987, 138.505},
     {0, 25, 50, 75, 100}},
    {"A7:0+", Simulator::milliammeter, "X5:19.ext", "X5:20.ext", "", k_milliamps, k_percent},
    {"A7:1+", Simulator::voltmeter, "X5:21.ext", "X5:22.ext", "", k_volts, k_hertz},
    {"A7:2+", Simulator::voltmeter, "X5:23.ext", "X5:24.ext", "", k_volts, k_hertz},
    {"A7:3+", Simulator::milliammeter, "X5:25.ext", "X5:26.ext", "", k_milliamps, k_percent},
};

void expect_as_written(const AnalogSheet& sheet, const Written& written, const PointTable& points) {
  ASSERT_TRUE(sheet.gaps.empty());
  ASSERT_FALSE(sheet.hook_up.why_not);
  EXPECT_EQ(sheet.hook_up.simulator, written.simulator);
  EXPECT_EQ(points.name(sheet.hook_up.plus), written.plus);
  EXPECT_EQ(points.name(sheet.hook_up.minus), written.minus);
  EXPECT_TRUE(sheet.hook_up.polarity_known);
  std::string further;
  for (const FurtherLead& lead : sheet.hook_up.further_leads)
    further += points.name(lead.terminal) + " " + points.name(lead.device);
  EXPECT_EQ(further, written.further);
  std::vector<double> signal, value, raw;
  for (std::size_t i = 0; i < 5; ++i) {
    signal.push_back(sheet.points[i].signal.value());
    value.push_back(sheet.points[i].value.value());
    raw.push_back(sheet.points[i].raw.value());
  }
  EXPECT_THAT(signal, Pointwise(DoubleNear(0.0006), written.signal));
  EXPECT_THAT(value, Pointwise(DoubleNear(1e-9), written.value));
  EXPECT_THAT(raw, Pointwise(DoubleNear(1e-9), {0.0, 8000.0, 16000.0, 24000.0, 32000.0}));
}

/// How many points lie outside the range: of NE 43, or open and shorted.
std::size_t further_points(const std::string& point) {
  if (point.starts_with("A7")) return 0;
  return point == "A6:2+" || point == "A6:3+" ? 2 : 4;
}

TEST(DemoAnalog, EveryAnalogChannelIsTestedAsWrittenByHand) {
  const auto netlist = load_netlist(RINGTRUE_NETLISTS "/grain-dryer");
  ASSERT_TRUE(netlist);
  const ConductionGraph graph(*netlist);
  const Supplies supplies(graph);
  std::size_t next = 0;
  for (std::size_t i = 0; i < netlist->channels.size(); ++i) {
    const Channel& channel = netlist->channels[i];
    if (channel.type != ChannelType::AI && channel.type != ChannelType::AO) continue;
    ASSERT_LT(next, k_written.size());
    const Written& written = k_written[next++];
    SCOPED_TRACE(written.point);
    ASSERT_EQ(netlist->points.name(channel.point), written.point);
    const AnalogSheet sheet = analog_sheet(supplies, i);
    EXPECT_EQ(sheet.points.size(), 5 + further_points(written.point));
    expect_as_written(sheet, written, netlist->points);
  }
  EXPECT_EQ(next, 12u);
}

}  // namespace
}  // namespace ringtrue
