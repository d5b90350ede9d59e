#include "ringtrue/io/analog.hpp"

#include <gmock/gmock.h>

#include "io/analog_support.hpp"
#include "ringtrue/report/analog_report.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;
using testing::ElementsAre;
using Kind = AnalogPoint::Kind;

AnalogSheet sheet_of(const ChannelRow& row, std::optional<double> cold_junction = {}) {
  SmallPanel panel = one_channel(row);
  return analog_sheet(Supplies(panel.graph()), 0, cold_junction);
}

/// A row whose signal, range and unit are these.
ChannelRow input(std::string_view signal, std::string_view low, std::string_view high,
                 std::string_view unit) {
  ChannelRow row = two_wire_input();
  row.signal = signal, row.low = low, row.high = high, row.unit = unit;
  return row;
}

TEST(Analog, NoNumberOfTheSheetIsRoundedToAnother) {
  const auto says = [](std::string_view low, std::string_view high, const std::string& what) {
    SmallPanel panel = one_channel(input("4-20mA", low, high, "u"));
    const AnalogReport report{panel.graph(), {analog_sheet(Supplies(panel.graph()), 0)}, {}};
    const std::string text = analog_text(report);
    EXPECT_NE(text.find(what), text.npos) << what << text;
  };
  says("0", "0.01", " 0.0025 u ");
  says("0", "0.01", " 0.0075 u ");
  says("0", "0.001", " 0.00025 u ");
  says("-0.5", "0.5", " -0.5125 u ");
  says("-0.3", "0.3", " 0 u ");
  says("0", "1000000", "0 to 1000000 u,");
  says("0", "100000", "0 to 100000 u,");
  says("0", "60", " 61.875 u ");
}

struct Columns {
  std::vector<double> percent, signal, value, raw;
  std::vector<Kind> kind;
};
Columns columns_of(const AnalogSheet& sheet) {
  Columns columns;
  for (const AnalogPoint& point : sheet.points) {
    columns.kind.push_back(point.kind);
    columns.percent.push_back(point.percent);
    columns.signal.push_back(point.signal.value_or(-999));
    columns.value.push_back(point.value.value_or(-999));
    columns.raw.push_back(point.raw.value_or(-999));
  }
  return columns;
}

// Source: NAMUR NE 43, in % by (I - 4)/16: 3.6 is -2.5, 3.8 is -1.25, 20.5 is 103.125, 21 is 106.25.
TEST(Analog, TwoWireInputHasFivePointsAndThoseOfNe43) {
  const Columns columns = columns_of(sheet_of(two_wire_input()));
  EXPECT_THAT(columns.percent, ElementsAre(0, 25, 50, 75, 100, -2.5, -1.25, 103.125, 106.25));
  EXPECT_THAT(columns.signal,
              ElementsAre(4, 8, 12, 16, 20, testing::DoubleEq(3.6), testing::DoubleEq(3.8), 20.5, 21));
  EXPECT_THAT(columns.value, ElementsAre(0, 25, 50, 75, 100, -999, -1.25, 103.125, -999));
  EXPECT_THAT(columns.raw, ElementsAre(0, 8000, 16000, 24000, 32000, -999, -400, 33000, -999));
  EXPECT_THAT(columns.kind,
              ElementsAre(Kind::in_range, Kind::in_range, Kind::in_range, Kind::in_range, Kind::in_range,
                          Kind::failure, Kind::beside_range, Kind::beside_range, Kind::failure));
}

TEST(Analog, OutputHasFivePointsAlone) {
  ChannelRow row = input("0-10V", "0", "50", "Hz");
  row.type = "AO";
  const Columns columns = columns_of(sheet_of(row));
  EXPECT_THAT(columns.signal, ElementsAre(0, 2.5, 5, 7.5, 10));
  EXPECT_THAT(columns.value, ElementsAre(0, 12.5, 25, 37.5, 50));
}

TEST(Analog, RangesMayFallAndLieAboutZero) {
  ChannelRow row = input("±10V", "80", "-20", "mbar");
  row.raw_low = "27648", row.raw_high = "-27648";
  const Columns columns = columns_of(sheet_of(row));
  EXPECT_THAT(columns.signal, ElementsAre(-10, -5, 0, 5, 10));
  EXPECT_THAT(columns.value, ElementsAre(80, 55, 30, 5, -20));
  EXPECT_THAT(columns.raw, ElementsAre(27648, 13824, 0, -13824, -27648));
}

TEST(Analog, WithoutLiveZeroNothingOutsideTheRangeIsFed) {
  EXPECT_THAT(columns_of(sheet_of(input("0-20mA", "0", "100", "%"))).signal, ElementsAre(0, 5, 10, 15, 20));
  EXPECT_THAT(columns_of(sheet_of(input("1-5V", "0", "100", "%"))).signal, ElementsAre(1, 2, 3, 4, 5));
}

TEST(Analog, ResistanceThermometerIsOpenedAndShortedToo) {  // ohms: IEC 60751
  const AnalogSheet sheet = sheet_of(input("Pt100", "-200", "200", "degC"));
  const Columns columns = columns_of(sheet);
  const std::vector<double> ohms = {18.520, 60.256, 100, 138.505, 175.856};
  for (std::size_t i = 0; i < ohms.size(); ++i) EXPECT_NEAR(columns.signal[i], ohms[i], 0.0005);
  ASSERT_EQ(sheet.points.size(), 7u);
  EXPECT_EQ(columns.kind[5], Kind::open);
  EXPECT_EQ(columns.kind[6], Kind::shorted);
}

TEST(Analog, FahrenheitAndKelvinAreTurnedIntoCelsius) {
  EXPECT_NEAR(columns_of(sheet_of(input("Pt100", "32", "392", "degF"))).signal[4], 175.856,
              0.0005);  // 200 °C
  EXPECT_NEAR(columns_of(sheet_of(input("Pt1000", "273.15", "373.15", "K"))).signal[4], 1385.055, 0.005);
}

// Source: IEC 60584-1, type K: 4.096 mV at 100 °C, 1.000 at 25, 8.138 at 200, 16.397 at 400.
TEST(Analog, ThermocoupleIsFedLessByItsColdJunction) {
  const Columns at_zero = columns_of(sheet_of(input("K", "0", "400", "°C")));
  EXPECT_NEAR(at_zero.signal[1], 4.096, 0.0005);
  EXPECT_NEAR(at_zero.signal[4], 16.397, 0.0005);
  const AnalogSheet warm = sheet_of(input("K", "0", "400", "°C"), 25);
  EXPECT_NEAR(*warm.points[0].signal, -1.000, 0.0005);
  EXPECT_NEAR(*warm.points[2].signal, 8.138 - 1.000, 0.001);
  EXPECT_EQ(warm.points.size(), 6u);
  EXPECT_EQ(warm.points.back().kind, Kind::open);
}

TEST(Analog, WhatTheDrawingLacksIsSaidAndNotGuessed) {
  EXPECT_THAT(sheet_of(input("", "0", "100", "%")).gaps, ElementsAre(AnalogGap::no_signal));
  EXPECT_THAT(sheet_of(input("HART", "0", "100", "%")).gaps, ElementsAre(AnalogGap::unknown_signal));
  EXPECT_THAT(sheet_of(input("4-20mA", "", "100", "%")).gaps, ElementsAre(AnalogGap::no_range));
  EXPECT_THAT(sheet_of(input("4-20mA", "7", "7", "%")).gaps, ElementsAre(AnalogGap::empty_range));
  EXPECT_THAT(sheet_of(input("4-20mA", "0", "100", "")).gaps, ElementsAre(AnalogGap::no_unit));
  EXPECT_THAT(sheet_of(input("Pt100", "0", "", "degC")).gaps, ElementsAre(AnalogGap::no_range));
  EXPECT_THAT(sheet_of(input("Pt100", "0", "100", "")).gaps, ElementsAre(AnalogGap::no_unit));
  EXPECT_THAT(sheet_of(input("Pt100", "0", "100", "bar")).gaps, ElementsAre(AnalogGap::no_temperature_unit));
  EXPECT_THAT(sheet_of(input("Pt100", "0", "900", "degC")).gaps, ElementsAre(AnalogGap::outside_sensor));
  EXPECT_THAT(sheet_of(input("J", "0", "1201", "degC")).gaps, ElementsAre(AnalogGap::outside_sensor));
  ChannelRow row = two_wire_input();
  row.raw_high = "";
  EXPECT_THAT(sheet_of(row).gaps, ElementsAre(AnalogGap::no_raw));
  row.raw_high = "0";
  EXPECT_THAT(sheet_of(row).gaps, ElementsAre(AnalogGap::empty_raw));
  row = input("Pt100", "0", "100", "degC");
  row.type = "AO";
  EXPECT_THAT(sheet_of(row).gaps, ElementsAre(AnalogGap::unknown_signal));
}

TEST(Analog, CurrentIsKnownWithoutItsMeaning) {
  const AnalogSheet sheet = sheet_of(input("4-20mA", "", "", ""));
  ASSERT_EQ(sheet.points.size(), 9u);
  EXPECT_EQ(sheet.points[2].signal, 12);
  EXPECT_FALSE(sheet.points[2].value);
  EXPECT_EQ(sheet.points[2].raw, 16000);
  EXPECT_TRUE(sheet_of(input("Pt100", "0", "", "degC")).points.empty());
}

TEST(Analog, ErrorIsToldInPercentOfSpan) {
  const AnalogSheet sheet = sheet_of(input("4-20mA", "8", "40", "%"));
  const auto verdict = judge_seen(sheet, {25, 16.08}, SeenAs::value);
  ASSERT_TRUE(verdict);
  EXPECT_EQ(verdict->expected, 16);
  EXPECT_NEAR(verdict->error_pct, 0.25, 1e-9);
  EXPECT_TRUE(verdict->is_good);
  EXPECT_NEAR(judge_seen(sheet, {25, 8160}, SeenAs::raw)->error_pct, 0.5, 1e-9);
  EXPECT_NEAR(judge_seen(sheet, {10, 5.44}, SeenAs::signal)->error_pct, -1, 1e-9);
  EXPECT_NEAR(judge_seen(sheet, {-1.25, 7.6}, SeenAs::value)->error_pct, 0, 1e-9);
}

TEST(Analog, ToleranceHoldsAtItsEdge) {
  const AnalogSheet sheet = sheet_of(two_wire_input());
  for (const double off : {0.5, -0.5}) {
    EXPECT_TRUE(judge_seen(sheet, {50, 50 + off}, SeenAs::value, 0.5)->is_good);
    EXPECT_FALSE(judge_seen(sheet, {50, 50 + off * 1.001}, SeenAs::value, 0.5)->is_good);
  }
  EXPECT_TRUE(
      judge_seen(sheet, {0, 4.08}, SeenAs::signal, 0.5)->is_good);  // 0.08/16 is above 0.005 in doubles
  EXPECT_TRUE(judge_seen(sheet, {0, 0}, SeenAs::value, 0)->is_good);
  EXPECT_FALSE(judge_seen(sheet, {0, 0.001}, SeenAs::value, 0)->is_good);
}

TEST(Analog, ErrorOfAFallingRangeKeepsTheSignOfWhatWasSeen) {
  const AnalogSheet sheet = sheet_of(input("4-20mA", "100", "0", "%"));
  EXPECT_NEAR(judge_seen(sheet, {25, 76}, SeenAs::value)->error_pct, 1, 1e-9);
}

TEST(Analog, AFailureMustBeToldWhereNe43SaysSoAndNowhereElse) {
  const AnalogSheet sheet = sheet_of(two_wire_input());
  const auto is_good = [&](double milliamps, std::optional<double> seen) {
    return judge_seen(sheet, {*sheet.scale->percent_at(milliamps), seen}, SeenAs::value).value().is_good;
  };
  for (const double failure : {0.0, 3.5, 3.6, 21.0, 22.5, 24.0}) {
    EXPECT_TRUE(is_good(failure, std::nullopt)) << failure;
    EXPECT_FALSE(is_good(failure, (failure - 4) / 16 * 100)) << failure;
  }
  for (const double value : {3.8, 4.0, 12.0, 20.0, 20.5}) {
    EXPECT_FALSE(is_good(value, std::nullopt)) << value;
    EXPECT_TRUE(is_good(value, (value - 4) / 16 * 100)) << value;
  }
  for (const double neither : {-0.1, 3.61, 3.79, 20.51, 20.99, 24.1})
    EXPECT_FALSE(judge_seen(sheet, {*sheet.scale->percent_at(neither), {}}, SeenAs::value)) << neither;
}

TEST(Analog, AnOpenThermometerMustTellAFailure) {
  const AnalogSheet sheet = sheet_of(input("Pt100", "0", "100", "degC"));
  for (const Kind kind : {Kind::open, Kind::shorted}) {
    EXPECT_TRUE(judge_seen(sheet, {0, {}, kind}, SeenAs::value)->is_good);
    EXPECT_FALSE(judge_seen(sheet, {0, 0, kind}, SeenAs::value)->is_good);
    EXPECT_FALSE(judge_seen(sheet_of(two_wire_input()), {0, {}, kind}, SeenAs::value));
  }
  EXPECT_FALSE(judge_seen(sheet_of(input("K", "0", "100", "degC")), {0, {}, Kind::shorted}, SeenAs::value));
  EXPECT_FALSE(sheet.scale->percent_at(100));
}

TEST(Analog, WhatCannotBeJudgedIsRefused) {
  const AnalogSheet sheet = sheet_of(two_wire_input());
  EXPECT_FALSE(judge_seen(sheet, {-2, 0}, SeenAs::value));
  EXPECT_FALSE(judge_seen(sheet, {104, 0}, SeenAs::value));
  EXPECT_FALSE(judge_seen(sheet_of(input("0-20mA", "0", "100", "%")), {-1, 0}, SeenAs::value));
  EXPECT_FALSE(judge_seen(sheet_of(input("4-20mA", "", "", "")), {0, 0}, SeenAs::value));
  EXPECT_FALSE(judge_seen(sheet_of(input("", "0", "100", "%")), {0, 0}, SeenAs::value));
  ChannelRow row = two_wire_input();
  row.raw_low = "";
  const auto refused = judge_seen(sheet_of(row), {0, 0}, SeenAs::raw);
  ASSERT_FALSE(refused);
  EXPECT_EQ(to_text(refused.error().front()),
            "what was seen can't be judged: expected raw_low and raw_high on the drawing, which differ");
}

}  // namespace
}  // namespace ringtrue
