#include "ringtrue/report/trace_report.hpp"

#include <nlohmann/json.hpp>

#include "report/report_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using nlohmann::json;

ChannelRow input(std::string_view point, std::string_view field) {
  ChannelRow row;
  row.point = point;
  row.type = "DI";
  row.address = "%IX0.0";
  row.tag = "HOPPER_FULL";
  row.text = "Hopper paddle";
  row.field = field;
  return row;
}

using testing_support::has;

TEST(TraceReport, CompletePathIsShownElementByElement) {
  SmallPanel panel;
  panel.wire("5", "X1:4.int", "A1:0.0", "1.4")
      .part("X1:4", "terminal", "int", "ext", "1.5")
      .channel(input("A1:0.0", "X1:4"));
  const auto traces = trace_channels(panel.graph());
  EXPECT_EQ(trace_text(panel.graph(), traces),
            "Panel GD1, revision B: 1 channel\n"
            "\n"
            "A1:0.0  DI  %IX0.0  HOPPER_FULL  Hopper paddle\n"
            "  signal: complete, A1:0.0 to field terminal X1:4.ext\n"
            "    A1:0.0    --  wire 5         ->  X1:4.int  sheet 1.4\n"
            "    X1:4.int  --  terminal X1:4  ->  X1:4.ext  sheet 1.5\n"
            "  return: not on the drawing\n"
            "  common: not on the drawing\n");
  const json channel = json::parse(trace_json(panel.graph(), traces))["channels"][0];
  EXPECT_EQ(channel["verdict"], "complete");
  EXPECT_EQ(channel["signal"]["points"], json({"A1:0.0", "X1:4.int", "X1:4.ext"}));
  EXPECT_EQ(
      channel["signal"]["elements"][0],
      json({{"name", "5"}, {"kind", "wire"}, {"from", "A1:0.0"}, {"to", "X1:4.int"}, {"sheet", "1.4"}}));
  EXPECT_EQ(channel["return"]["verdict"], "not-stated");
  EXPECT_EQ(channel["return"]["from"], nullptr);
}

TEST(TraceReport, BrokenPathSaysWhereItStopsAndWhatLiesBeyond) {
  SmallPanel panel;
  panel.wire("5", "X1:4.int", "A1:0.0", "1.4")
      .part("X1:4", "terminal", "int", "ext", "1.4")
      .part("X1:5", "terminal", "int", "ext", "1.4")
      .channel(input("A1:0.0", "X1:5"));
  const auto traces = trace_channels(panel.graph());
  const std::string text = trace_text(panel.graph(), traces);
  EXPECT_TRUE(has(text, "signal: stops before field terminal X1:5.ext")) << text;
  EXPECT_TRUE(has(text, "nothing leads on from X1:4.ext")) << text;
  EXPECT_TRUE(has(text, "the other side of the gap, nearest first: X1:5")) << text;
  EXPECT_EQ(json::parse(trace_json(panel.graph(), traces))["channels"][0]["verdict"], "stops");
}

TEST(TraceReport, ChannelsOnOneNetAreNamedToEachOther) {
  SmallPanel panel;
  panel.wire("5", "X1:4.int", "A1:0.0").wire("6", "A1:0.0", "A1:0.1").part("X1:4", "terminal", "int", "ext");
  panel.channel(input("A1:0.0", "X1:4")).channel(input("A1:0.1", "X1:4"));
  const auto traces = trace_channels(panel.graph());
  EXPECT_TRUE(has(trace_text(panel.graph(), traces), "Shares its net with A1:0.1 (HOPPER_FULL)"));
  const json channel = json::parse(trace_json(panel.graph(), traces))["channels"][0];
  EXPECT_EQ(channel["verdict"], "shares-net");
  EXPECT_EQ(channel["shares_net_with"], json({"A1:0.1"}));
}

TEST(TraceReport, ContactThatMustBeClosedIsNamed) {
  SmallPanel panel;
  panel.wire("5", "S1:14", "A1:0.0").wire("6", "S1:13", "X1:4.int").part("S1", "contact-no", "13", "14");
  panel.part("X1:4", "terminal", "int", "ext").channel(input("A1:0.0", "X1:4"));
  const std::string text = trace_text(panel.graph(), trace_channels(panel.graph()));
  EXPECT_TRUE(has(text, "not conducting at rest")) << text;
  EXPECT_TRUE(has(text, "conducts only once closed: contact S1:13-14")) << text;
}

}  // namespace
}  // namespace ringtrue
