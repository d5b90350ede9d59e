#include "ringtrue/model/condition.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

class Conditions : public ::testing::Test {
 protected:
  Netlist net_ = testing::netlist(
      "part K1 coil A1 A2 360\n"
      "part K1 contact-no 13 14\n"
      "part S2 contact-no 13 14 - - 0,2\n"
      "part F3 fuse 1 2\n"
      "part Q1 breaker 1 2\n"
      "part X4:1 plug\n"
      "12 X1:5.int K1:13\n");
  std::string error(const char* text) {
    const auto made = parse_condition(text, net_);
    return made ? "no error" : to_text(made.error().front());
  }
};

TEST_F(Conditions, EachIsSplitAtItsLastEqualsSign) {
  const Condition made =
      parse_condition("K1=operated; F3=out;X4=unplugged; =GD1-Q1=off", net_).value_or(Condition{});
  EXPECT_TRUE(made.settings.empty()) << "=GD1 is not this panel's function";
  const Condition fine =
      parse_condition(" K1=operated ; F3=out;X4=unplugged; Q1=off; S2=position 2; power=on", net_).value();
  EXPECT_EQ(fine.settings.size(), 6u);
}

TEST_F(Conditions, LiftedEndsAndTemporaryLeadsNameTheirPoints) {
  const Condition made = parse_condition("12@X1:5=lifted; X1:5~F3:1=jumpered", net_).value();
  ASSERT_EQ(made.settings.size(), 2u);
  EXPECT_TRUE(made.settings[0].lifted_from);
  EXPECT_EQ(net_.points.name(made.settings[1].from), "X1:5.ext") << "the tester's side";
}

TEST_F(Conditions, WrongOnesSayWhatWouldBeRight) {
  EXPECT_EQ(error("K1"),
            "not a condition: found \"K1\", expected OBJECT=STATE, such as K1=operated or F3=out");
  EXPECT_EQ(error("K2=operated"),
            "the drawing has no such part: found \"K2\", expected a part of the drawing; nearest: K1, S2");
  EXPECT_EQ(error("F3=operated"),
            "this part has no such state: found \"F3=operated\", expected F3 out, unplugged");
  EXPECT_EQ(error("K1=pressed"),
            "no such state: found \"pressed\", expected operated, position N, out, off, on, open, unplugged, "
            "lifted or jumpered");
  EXPECT_EQ(error("S2=position 1e10"),
            "no such state: found \"position 1e10\", expected operated, position N, out, off, on, open, "
            "unplugged, lifted or jumpered");
  EXPECT_EQ(error("Q1=on; Q1=off"),
            "one object in two states: found \"Q1=on; Q1=off\", expected one state for Q1");
  EXPECT_EQ(error("12=lifted"), "not a condition: found \"12=lifted\", expected WIRE@POINT=lifted");
  EXPECT_EQ(error("K1=jumpered"), "not a condition: found \"K1=jumpered\", expected POINT~POINT=jumpered");
  EXPECT_EQ(error("K1:A1.ext~X1:5=jumpered"), "this point has no sides: found \"K1:A1.ext\", expected K1:A1");
  EXPECT_EQ(error("12@K1:14=lifted"),
            "that conductor has no end there: found \"12@K1:14\", expected WIRE@POINT, a conductor and the "
            "point it is lifted from");
}

}  // namespace
}  // namespace ringtrue
