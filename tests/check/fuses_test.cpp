#include "tests/support/drawing_files.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// A supply, a fuse with these fields from `ohms` on, a load, and this size of the wire behind the fuse.
DrawingFiles fused(const std::string& ohms_volts_amps, const std::string& size) {
  DrawingFiles files;
  files.conductors = "wire,from,to,mm2,awg\n1,G1:+,F1:1,2.5,\n2,F1:2,P1:x1," + size + "\n3,P1:x2,G1:-,2.5,\n";
  files.parts = "part,kind,a,b,ohms,volts,amps\nG1,supply,+,-,,24,\nP1,lamp,x1,x2,,,\nF1,fuse,1,2," +
                ohms_volts_amps + "\n";
  files.potentials = "name,kind,volts,point\n+24V,dc+,24,G1:+\n0V,dc-,0,G1:-\n";
  return files;
}

// 0.25 A and the ohms of small fuses: an estimate of the design, no source.
TEST(CheckFuses, SmallFuseWithoutOhms) {
  expect_rule({"small-fuse-without-ohms", fused(",,0.2", "1.5,"), fused(",,0.25", "1.5,")});
  EXPECT_TRUE(broken_rules(load(fused("8,,0.2", "1.5,"))).empty());
}

// IEC 60204-1, table 6, from memory: 1.5 mm2 in free air 16.1 A, 0.75 mm2 10.4 A. AWG 14 has 2.08 mm2 (ASTM
// B258), for which the 22 A of 2.5 mm2 stand.
TEST(CheckFuses, ConductorBelowItsFuse) {
  expect_rule({"conductor-below-its-fuse", fused(",,20", "1.5,"), fused(",,16", "1.5,")});
  expect_rule({"conductor-below-its-fuse", fused(",,11", "\"0,75\","), fused(",,10", "0.75,")});
  expect_rule({"conductor-below-its-fuse", fused(",,25", ",14"), fused(",,20", ",14")});
}

TEST(CheckFuses, WhatIsBeforeTheFuseOrHasNoSizeIsNotAsked) {
  EXPECT_TRUE(broken_rules(load(fused(",,100", ","))).empty());
  DrawingFiles before = fused(",,16", "4,");
  before.conductors.replace(before.conductors.find("F1:1,2.5"), 8, "F1:1,0.5");
  EXPECT_TRUE(broken_rules(load(before)).empty());
}

}  // namespace
}  // namespace ringtrue
