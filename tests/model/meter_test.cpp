#include "ringtrue/model/meter.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

std::string error_of(const MeterRow& row) {
  const auto meter = meter_from_row(row, 3, "meters.csv");
  return meter ? "" : to_text(meter.error().front());
}

MeterRow named(std::string_view name) {
  MeterRow row;
  row.meter = name;
  return row;
}

TEST(Meters, WhatIsLeftOutKeepsItsDefault) {
  const auto meter = meter_from_row(named("M1"), 2, "meters.csv");
  ASSERT_TRUE(meter);
  EXPECT_EQ(meter->settings.threshold, MeterSettings{}.threshold);
  EXPECT_FALSE(meter->settings.lead_ohms);
}

TEST(Meters, ValuesTakeSuffixesAndAShareOrPerCent) {
  MeterRow row = named("M2");
  row.threshold = "20", row.range = "60M", row.lead_ohms = "0,2", row.accuracy = "1.5%";
  const auto meter = meter_from_row(row, 2, "meters.csv");
  ASSERT_TRUE(meter);
  EXPECT_EQ(meter->settings.threshold, Ohms{20});
  EXPECT_EQ(meter->settings.range, Ohms{60e6});
  EXPECT_EQ(meter->settings.lead_ohms, Ohms{0.2});
  EXPECT_DOUBLE_EQ(meter->settings.accuracy, 0.015);
}

TEST(Meters, AWrongValueIsNamedWithItsPlace) {
  EXPECT_EQ(error_of(named("")),
            "meters.csv:3: meter: the meter has no name: expected the name by which readings call it");
  MeterRow row = named("M1");
  row.threshold = "low";
  EXPECT_EQ(
      error_of(row),
      "meters.csv:3: threshold: not a value that fits here: found \"low\", expected ohms above 0, such as "
      "30 or 60M");
  row = named("M1");
  row.accuracy = "120%";
  EXPECT_EQ(
      error_of(row),
      "meters.csv:3: accuracy: not a value that fits here: found \"120%\", expected a share below 1, such "
      "as 0.02 or 2%");
}

TEST(Meters, LeadsAboveTheThresholdAreRefused) {
  MeterRow row = named("M1");
  row.threshold = "30", row.lead_ohms = "30";
  EXPECT_EQ(
      error_of(row),
      "meters.csv:3: lead_ohms: not a value that fits here: found \"30\", expected less than the threshold, "
      "or the meter never beeps");
}

TEST(Meters, StatedLeadsComeOffTheValueAndTheThreshold) {
  MeterSettings meter;
  EXPECT_EQ(beep_limit(meter), Ohms{30});
  meter.lead_ohms = Ohms{0.4};
  EXPECT_EQ(beep_limit(meter), Ohms{29.6});
  meter.accuracy = 0;
  const OhmInterval circuit = circuit_ohms(10, meter);
  EXPECT_DOUBLE_EQ(circuit.hi.value, 9.7) << "10 less the leads, and the last digit";
  EXPECT_DOUBLE_EQ(circuit.lo.value, 9.4) << "and the probes' contact";
}

}  // namespace
}  // namespace ringtrue
