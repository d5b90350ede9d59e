#include "ringtrue/graph/trace.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

class Trace : public ::testing::Test {
 protected:
  ChannelTrace trace(const std::string& text, std::size_t channel = 0) {
    net_ = testing::netlist(text);
    graph_ = std::make_unique<ConductionGraph>(net_);
    return trace_channel(*graph_, channel);
  }
  std::string walk(const TracedPath& path) const {
    std::string text;
    for (std::size_t i = 0; i < path.points.size(); ++i) {
      if (i > 0) text += " -" + graph_->element_name(path.elements[i - 1]) + "- ";
      text += net_.points.name(path.points[i]);
    }
    return text;
  }
  std::string names(const std::vector<PointId>& points) const {
    std::string text;
    for (const PointId p : points) text += (text.empty() ? "" : " ") + net_.points.name(p);
    return text;
  }
  Netlist net_;
  std::unique_ptr<ConductionGraph> graph_;
};

constexpr const char* k_fed =
    "part G1 supply P M\n"
    "part X1:1 fuse int ext\n"
    "potential +24V dc+ G1:P\n"
    "potential 0V dc- G1:M\n"
    "1 G1:P X1:1.int\n"
    "2 X1:1.ext X2:1.int\n"
    "3 X2:2.int A1:0\n"
    "4 A1:M G1:M\n"
    "channel A1:0 DI X2:2 X2:1 A1:M\n";

TEST_F(Trace, SignalReturnAndCommonElementByElement) {
  const ChannelTrace made = trace(k_fed);
  EXPECT_TRUE(made.is_complete());
  EXPECT_EQ(walk(made.signal), "A1:0 -3- X2:2.int -X2:2- X2:2.ext");
  EXPECT_EQ(walk(made.return_path), "X2:1.ext -X2:1- X2:1.int -2- X1:1.ext -X1:1- X1:1.int -1- G1:P");
  EXPECT_EQ(walk(made.common), "A1:M -4- G1:M");
  ASSERT_EQ(made.return_path.opened_by_condition.size(), 1u) << "the fuse can be pulled";
}

TEST_F(Trace, StopsWhereNothingLeadsOn) {
  const ChannelTrace made = trace("1 A1:0 K1:13\n2 K1:14 X2:1.int\nchannel A1:0 DI X2:1\n");
  EXPECT_EQ(made.signal.verdict, PathVerdict::stops) << "K1:13-14 is no part of the drawing";
  EXPECT_EQ(names(made.signal.stops_at), "K1:13");
  EXPECT_EQ(names(made.signal.target_side), "X2:1.ext X2:1.int K1:14");
}

TEST_F(Trace, PassesAContactThatIsOpenAtRest) {
  const ChannelTrace made =
      trace("part K1 contact-no 13 14\n1 A1:0 K1:13\n2 K1:14 X2:1.int\nchannel A1:0 DO X2:1\n");
  EXPECT_EQ(made.signal.verdict, PathVerdict::passes_open);
  ASSERT_EQ(made.signal.open_elements.size(), 1u);
  EXPECT_EQ(graph_->element_name(made.signal.open_elements.front()), "K1:13-14");
}

TEST_F(Trace, InfersTheOnlyFieldTerminal) {
  const ChannelTrace made = trace("1 A1:0 X2:1.int\nchannel A1:0 DI\n");
  EXPECT_TRUE(made.signal.inferred);
  EXPECT_EQ(names({made.signal.to}), "X2:1.ext");
  EXPECT_EQ(trace("1 A1:0 K1:A1\nchannel A1:0 DO\n").signal.verdict, PathVerdict::no_target);
}

TEST_F(Trace, TwoChannelsOnOneNetAreReported) {
  const ChannelTrace made =
      trace("1 A1:0 X2:1.int\n2 A1:1 X2:1.int\nchannel A1:0 DI X2:1\nchannel A1:1 DI X2:1\n");
  EXPECT_EQ(made.shares_net_with, std::vector<std::size_t>{1});
}

TEST_F(Trace, DoesNotGoThroughACommonToAnotherContact) {
  // Both contacts hang on +24V: the way round over the common is no path of the channel.
  const ChannelTrace made = trace(
      "part S1 contact-no 13 14\npart S2 contact-no 13 14\npotential +24V dc+ G1:+\n"
      "1 G1:+ S1:13\n2 G1:+ S2:13\n3 S1:14 A1:0\n4 S2:14 X2:2.int\nchannel A1:0 DI X2:2\n");
  EXPECT_EQ(made.signal.verdict, PathVerdict::stops);
}

TEST_F(Trace, MisspeltChannelGetsTheNearestNames) {
  trace(k_fed);
  const auto found = find_channels(net_, "A1:9");
  ASSERT_FALSE(found);
  EXPECT_EQ(to_text(found.error().front()),
            "the drawing has no such channel: found \"A1:9\", expected a channel's point, address or tag; "
            "nearest: A1:0");
  EXPECT_EQ(find_channels(net_, "a1:0").value(), std::vector<std::size_t>{0});
}

TEST(FindChannels, APointIsNoTagOfAnother) {
  const Netlist net = testing::netlist("channel A1:0 DI - - - A1:1\nchannel A1:1 DI\n");
  EXPECT_EQ(find_channels(net, "A1:1").value(), std::vector<std::size_t>{1});
  EXPECT_EQ(find_channels(net, "A1:0").value(), std::vector<std::size_t>{0});
}

}  // namespace
}  // namespace ringtrue
