#include "ringtrue/expect/judge.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing::point;

class Judging : public ::testing::Test {
 protected:
  void panel(const std::string& text) {
    net_ = testing::netlist(text);
    graph_ = std::make_unique<ConductionGraph>(net_);
  }
  Verdict verdict(const std::string& from, const std::string& to, const std::string& value,
                  const std::string& condition = "", Method method = Method::not_stated) {
    const ConditionOverlay made = overlay_of(parse_condition(condition, net_).value(), *graph_);
    Probing probing = probing_of(from, to);
    probing.value = parse_value(value).value();
    probing.method = method;
    return judge(View(*graph_, made.overlay), probing);
  }
  OhmInterval expected(const std::string& from, const std::string& to, const std::string& condition = "",
                       Counting counting = Counting::whole) {
    const ConditionOverlay made = overlay_of(parse_condition(condition, net_).value(), *graph_);
    return expected_resistance(View(*graph_, made.overlay), probing_of(from, to), counting);
  }
  Probing probing_of(const std::string& from, const std::string& to) {
    Probing probing;
    probing.from = point(net_, from), probing.to = point(net_, to);
    return probing;
  }
  Netlist net_;
  std::unique_ptr<ConductionGraph> graph_;
};

TEST_F(Judging, CopperBeepsAndNothingElseIsOpen) {
  panel("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n");
  EXPECT_EQ(verdict("K1:A1", "X1:1.ext", "beep"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "X1:1.ext", "open"), Verdict::disagrees);
  EXPECT_EQ(verdict("K1:A1", "X1:2.int", "open"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "X1:2.int", "OL"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "X1:2.int", "beep"), Verdict::disagrees);
}

TEST_F(Judging, AChainOf400BridgesStillBeeps) {
  std::string text;
  for (int i = 1; i <= 400; ++i)
    text += "- X1:" + std::to_string(i) + ".int X1:" + std::to_string(i + 1) + ".int bridge\n";
  panel(text);
  EXPECT_EQ(verdict("X1:1.int", "X1:401.int", "beep"), Verdict::agrees);
}

TEST_F(Judging, ACoilIsOpenForTheBuzzerAndItsOhmsForTheMeter) {
  panel("part K1 coil A1 A2 360\n");
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "open"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "beep"), Verdict::disagrees);
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "350"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "680"), Verdict::disagrees) << "10 % tolerance";
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "open", "K1=unplugged"), Verdict::agrees);
}

TEST_F(Judging, AnUnknownCoilLeavesTheBuzzerEitherWay) {
  panel("part K1 coil A1 A2\n");
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "beep"), Verdict::either);
  EXPECT_EQ(verdict("K1:A1", "K1:A2", "open"), Verdict::either);
}

TEST_F(Judging, AColdLampMayBeep) {
  panel("part P1 lamp x1 x2 115\n");
  EXPECT_EQ(verdict("P1:x1", "P1:x2", "beep"), Verdict::either);
}

TEST_F(Judging, TwoCoilsInSeriesOverTheirCommonAddUp) {
  panel("part K1 coil A1 A2 100\npart K2 coil A1 A2 100\n1 K1:A2 K2:A2\n");
  const OhmInterval both = expected("K1:A1", "K2:A1");
  EXPECT_NEAR(both.lo.value, 180, 1e-6);
  EXPECT_NEAR(both.hi.value, 220.2, 1e-6) << "and the wire between them";
  EXPECT_EQ(verdict("K1:A1", "K2:A1", "200"), Verdict::agrees);
}

TEST_F(Judging, AFuseWithStatedOhmsCanSilenceTheBuzzer) {
  panel("part F1 fuse 1 2 27\n1 K1:A1 F1:1\n");
  EXPECT_EQ(verdict("K1:A1", "F1:2", "open"), Verdict::disagrees) << "up to 29.7 ohms and the wire: 29.9";
  panel("part F1 fuse 1 2 28\n1 K1:A1 F1:1\n");
  EXPECT_EQ(verdict("K1:A1", "F1:2", "open"), Verdict::either) << "up to 31 ohms";
}

// 40.1 ohms per km, longer by a tenth and at 40 degrees: 47.6 ohms per km.
TEST_F(Judging, ALongCoreMayBeSilent) {
  panel("1 X1:1.ext X2:1.ext core - 500 0.5\n");
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "beep"), Verdict::agrees) << "up to 23.9 ohms";
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "open"), Verdict::disagrees);
  panel("1 X1:1.ext X2:1.ext core - 700 0.5\n");
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "beep"), Verdict::either) << "up to 33.4 ohms";
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "open"), Verdict::either);
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "32"), Verdict::agrees);
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "36"), Verdict::disagrees);
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "5"), Verdict::agrees) << "the table is a maximum";
  const double most = 0.7 * 40.1 * 1.1 * (234.5 + 40) / 254.5 + 0.1;
  EXPECT_NEAR(expected("X1:1.ext", "X2:1.ext").hi.value, most, 1e-6);
}

TEST_F(Judging, TwoLongCoresSideBySideBeep) {
  panel("1 X1:1.ext X2:1.ext core - 700 0.5\n2 X1:1.ext X2:1.ext core - 700 0.5\n");
  EXPECT_EQ(verdict("X1:1.ext", "X2:1.ext", "open"), Verdict::disagrees) << "half of 33.4 ohms";
}

TEST_F(Judging, AGaugeCountsLikeASize) {
  // 18 AWG: 20.95 ohms per km, stranded 1.05 times that.
  panel("1 K1:A1 K2:A1 wire - 100 - 18\n");
  EXPECT_NEAR(expected("K1:A1", "K2:A1").hi.value, 0.1 * 20.95 * 1.05 * 1.1 * (234.5 + 40) / 254.5 + 0.1,
              1e-3);
}

TEST_F(Judging, NoLengthAtAllIsItsClampsAlone) {
  panel("1 K1:A1 K2:A1 wire - 0 0.75\n");
  EXPECT_NEAR(expected("K1:A1", "K2:A1").hi.value, 0.1, 1e-9);
}

TEST_F(Judging, LengthWithoutSizeIsGuessedButSilencesNothing) {
  panel("1 K1:A1 K2:A1 wire - 1000\n");
  EXPECT_EQ(verdict("K1:A1", "K2:A1", "open"), Verdict::disagrees);
  EXPECT_EQ(verdict("K1:A1", "K2:A1", "100"), Verdict::agrees) << "it may be as thin as 0.14 mm2";
}

TEST_F(Judging, ABareNameLeavesTheSideOpenAndItsBodySound) {
  panel("1 K1:A1 X1:1.int\n");
  Probing bare = probing_of("K1:A1", "X1:1.int");
  bare.to_either_side = true;
  const Overlay nothing;
  EXPECT_NEAR(expected_resistance(View(*graph_, nothing), bare).hi.value, 0.3, 1e-9) << "wire and body";
  Overlay broken;
  for (std::uint32_t e = 0; e < graph_->element_count(); ++e)
    if (graph_->kind(ElementId{e}) == ElementKind::body) broken.switch_off(*graph_, ElementId{e});
  bare.from = point(net_, "X1:1.int"), bare.from_either_side = true;
  bare.to = point(net_, "X1:1.ext"), bare.to_either_side = false;
  EXPECT_NEAR(expected_resistance(View(*graph_, broken), bare).hi.value, 0.2, 1e-9)
      << "the body counts as sound, whichever side the lead is on";
}

TEST_F(Judging, InsulationIsNeverJudgedByTheBuzzer) {
  panel("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n");
  EXPECT_EQ(verdict("K1:A1", "K2:A1", "200M", "", Method::insulation), Verdict::agrees);
  EXPECT_EQ(verdict("K1:A1", "K2:A1", "12k", "", Method::insulation), Verdict::disagrees);
  EXPECT_EQ(verdict("K1:A1", "X1:1.int", "200M", "", Method::insulation), Verdict::disagrees);
}

TEST_F(Judging, ConditionsMoveContactsAndPullFuses) {
  panel(
      "part K1 contact-no 13 14\npart K1 contact-nc 21 22\npart F1 fuse 1 2\npart S2 contact-no 3 4 - - 1\n");
  EXPECT_EQ(verdict("K1:13", "K1:14", "beep", "K1=operated"), Verdict::agrees);
  EXPECT_EQ(verdict("K1:21", "K1:22", "open", "K1=operated"), Verdict::agrees);
  EXPECT_EQ(verdict("F1:1", "F1:2", "open", "F1=out"), Verdict::agrees);
  EXPECT_EQ(verdict("S2:3", "S2:4", "beep"), Verdict::agrees)
      << "no contact names position 0: the lowest is the rest position";
  EXPECT_EQ(verdict("S2:3", "S2:4", "open", "S2=position 2"), Verdict::agrees);
}

TEST_F(Judging, FieldPartsAreAbsentUntilConnected) {
  panel("part B1 contact-nc 1 2 - - - field\n1 X1:1.ext B1:1 core\n2 X1:2.ext B1:2 core\n");
  EXPECT_EQ(verdict("X1:1.ext", "X1:2.ext", "open"), Verdict::agrees);
  EXPECT_EQ(verdict("X1:1.ext", "X1:2.ext", "beep", "field=connected"), Verdict::agrees);
}

}  // namespace
}  // namespace ringtrue
