#include "ringtrue/io/signal.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

void expect_range(std::string_view text, SignalKind kind, double low, double high) {
  const auto signal = signal_from_text(text);
  ASSERT_TRUE(signal) << text;
  EXPECT_EQ(signal->kind, kind) << text;
  EXPECT_EQ(signal->low, low) << text;
  EXPECT_EQ(signal->high, high) << text;
}

TEST(Signal, RangesAreReadHoweverTheyAreWritten) {
  for (const char* text : {"4-20mA", "4..20 mA", "4...20mA", "4…20 mA", "4–20 mA", "4 to 20 MA", "+4-+20mA"})
    expect_range(text, SignalKind::current, 4, 20);
  for (const char* text : {"-10-10V", "-10..+10 V", "+-10V", "+/-10 V", "± 10 V", "−10 – 10 V"})
    expect_range(text, SignalKind::voltage, -10, 10);
  expect_range("0-20mA", SignalKind::current, 0, 20);
  expect_range("0-10V", SignalKind::voltage, 0, 10);
  expect_range("1-5V", SignalKind::voltage, 1, 5);
  expect_range("0.5-4.5V", SignalKind::voltage, 0.5, 4.5);
}

TEST(Signal, ThermometersAreReadByName) {
  EXPECT_EQ(signal_from_text("Pt100")->ohms_at_zero, 100);
  EXPECT_EQ(signal_from_text("PT 1000")->ohms_at_zero, 1000);
  EXPECT_EQ(signal_from_text("Pt500")->kind, SignalKind::resistance);
  EXPECT_EQ(signal_from_text("K")->thermocouple, Thermocouple::K);
  EXPECT_EQ(signal_from_text("type J")->thermocouple, Thermocouple::J);
  EXPECT_EQ(signal_from_text("J")->kind, SignalKind::thermocouple);
}

TEST(Signal, WhatIsNoneIsNotGuessed) {
  for (const char* text : {"", "mA", "V", "4-20", "20-4mA", "4-4mA", "4-20mAh", "4-20V4", "0-230V", "4-200mA",
                           "Pt101", "T", "N", "HART", "4--20mA5", "nan-20mA", "0-infV", "+-0V", "+--5V"})
    EXPECT_FALSE(signal_from_text(text)) << text;
}

TEST(Signal, OnlyFourToTwentyMilliampsHaveNe43) {
  EXPECT_TRUE(signal_from_text("4-20mA")->has_ne43());
  for (const char* text : {"0-20mA", "4-20V", "1-5V", "Pt100", "K"})
    EXPECT_FALSE(signal_from_text(text)->has_ne43()) << text;
}

}  // namespace
}  // namespace ringtrue
