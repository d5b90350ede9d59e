#include "ringtrue/power/input_loop.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

constexpr const char* k_supply =
    "part G1 supply 1 2\npotential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n"
    "1 G1:1 X1:1.int\n2 G1:2 X2:1.int\n";

class Looping : public ::testing::Test {
 protected:
  /// Points of the loop of the first channel, from plus to minus; or the error.
  std::string walk(const std::string& rows) {
    net_ = netlist(rows);
    const ConductionGraph graph(net_);
    const auto loop = input_loop(graph, 0);
    if (!loop) return to_text(loop.error().front());
    driven_ = driving_conditions(*loop, graph);
    std::string text;
    for (const LoopSegment& segment : loop->segments) {
      text += net_.points.name(segment.from) + (segment.kind == SegmentKind::device   ? " ~ "
                                                : segment.kind == SegmentKind::module ? " = "
                                                                                      : " ");
    }
    return text + net_.points.name(loop->minus());
  }

  Netlist net_;
  std::string driven_;
};

TEST_F(Looping, ASinkingInputLeadsFromTheDeviceToTheModule) {
  const std::string rows = std::string(k_supply) +
                           "3 X3:1.int A1:0\n4 A1:M X2:1.ext\n"
                           "channel A1:0 DI X3:1.ext X1:1.ext A1:M\n";
  EXPECT_EQ(walk(rows), "G1:1 X1:1.int X1:1.ext ~ X3:1.ext X3:1.int A1:0 = A1:M X2:1.ext X2:1.int G1:2");
  EXPECT_EQ(driven_, "power=on");
}

TEST_F(Looping, ASourcingInputLeadsFromTheModuleToTheDevice) {
  const std::string rows = std::string(k_supply) +
                           "3 X3:1.int A1:0\n4 A1:C X1:1.ext\n"
                           "channel A1:0 DI X3:1.ext X2:1.ext A1:C\n";
  EXPECT_EQ(walk(rows), "G1:1 X1:1.int X1:1.ext A1:C = A1:0 X3:1.int X3:1.ext ~ X2:1.ext X2:1.int G1:2");
}

TEST_F(Looping, ContactsThatAreOpenAtRestMustBeClosed) {
  const std::string rows = std::string(k_supply) +
                           "part S1 contact-no 13 14\npart K1 contact-no 1 2\npart K1 coil A1 A2\n"
                           "3 X1:1.ext S1:13\n4 S1:14 K1:1\n5 K1:2 A1:0\n6 A1:M X2:1.ext\n"
                           "channel A1:0 DI S1:14 S1:13 A1:M\n";
  EXPECT_EQ(walk(rows), "G1:1 X1:1.int X1:1.ext S1:13 ~ S1:14 K1:1 K1:2 A1:0 = A1:M X2:1.ext X2:1.int G1:2");
  EXPECT_EQ(driven_, "power=on;S1=operated;K1=operated");
}

TEST_F(Looping, WhatHasNoLoopSaysWhyAndWhatToUse) {
  const auto begins = [&](const std::string& rows, const std::string& text) {
    const std::string said = walk(std::string(k_supply) + rows);
    EXPECT_EQ(said.substr(0, text.size()), text);
  };
  begins("3 X3:1.int A1:0\nchannel A1:0 DO X3:1.ext X2:1.ext A1:M\n", "an output has no loop");
  begins("3 X3:1.int A1:0\nchannel A1:0 AO X3:1.ext X2:1.ext A1:M\n", "an output feeds its loop itself");
  begins("3 X3:1.int A1:0\nchannel A1:0 AI X3:1.ext X2:1.ext A1:M\n",
         "no supply of the panel is stated to feed the loop of this input");
  begins("3 X3:1.int A1:0\nchannel A1:0 DI X3:1.ext X1:1.ext A1:M\n",
         "the drawing gives this input no whole loop");
  begins("3 X3:1.int A1:0\n4 A1:M X1:1.ext\nchannel A1:0 DI X3:1.ext X1:1.ext A1:M\n",
         "the loop of this input doesn't lead from the plus of a DC supply to a minus");
}

}  // namespace
}  // namespace ringtrue
