#include "ringtrue/io/input_thresholds.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

struct AtVolts {
  double volts;
  InputState shown;
};

// Source: IEC 61131-2, current-sinking inputs for 24 V DC, from memory: sure "0" from -3 to 5 V, sure "1"
// from 15 V (type 1) or 11 V (types 2 and 3) to 30 V. The middle points lie in the band of transition.
TEST(InputThresholds, Type1IsDarkTo5VoltsAndLitFrom15) {
  for (const auto& [volts, shown] :
       {AtVolts{-3.1, InputState::undefined}, AtVolts{-3, InputState::dark}, AtVolts{0, InputState::dark},
        AtVolts{5, InputState::dark}, AtVolts{10, InputState::undefined},
        AtVolts{14.9, InputState::undefined}, AtVolts{15, InputState::lit}, AtVolts{24, InputState::lit},
        AtVolts{30, InputState::lit}, AtVolts{30.1, InputState::undefined}})
    EXPECT_EQ(input_state(volts, InputType::type_1), shown) << volts << " V";
}

TEST(InputThresholds, Types2And3AreLitFrom11Volts) {
  for (const InputType type : {InputType::type_2, InputType::type_3})
    for (const auto& [volts, shown] :
         {AtVolts{5, InputState::dark}, AtVolts{5.1, InputState::undefined},
          AtVolts{8, InputState::undefined}, AtVolts{10.9, InputState::undefined},
          AtVolts{11, InputState::lit}, AtVolts{30, InputState::lit}})
      EXPECT_EQ(input_state(volts, type), shown) << volts << " V";
}

TEST(InputThresholds, WithoutATypeOnlyWhatAllTypesShowIsSaid) {
  EXPECT_EQ(input_state(5), InputState::dark);
  EXPECT_EQ(input_state(13), InputState::undefined) << "lit on types 2 and 3 alone";
  EXPECT_EQ(input_state(15), InputState::lit);
}

// Source: IEC 60947-5-2, from memory: a two-wire sensor leaks up to 1.5 mA while off and keeps up to 8 V
// while on.
TEST(InputThresholds, TwoWireSensorsSuitTypes2And3Only) {
  constexpr double k_leak_ma = 1.5, k_on_drop = 8;
  for (const InputType type : k_input_types) {
    EXPECT_EQ(thresholds(type).takes_two_wire_sensors, k_leak_ma <= thresholds(type).dark_to_ma);
    EXPECT_EQ(input_state(24 - k_on_drop, type), InputState::lit);
  }
}

}  // namespace
}  // namespace ringtrue
