#include "ringtrue/model/readings.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

TEST(ReadingValues, AreReadAsPeopleWriteThem) {
  const std::pair<const char*, ReadingValue> cases[] = {{"beep", {ValueKind::beep, 0}},
                                                        {" Open ", {ValueKind::open, 0}},
                                                        {"OL", {ValueKind::over_range, 0}},
                                                        {"0.4", {ValueKind::ohms, 0.4}},
                                                        {"0,4", {ValueKind::ohms, 0.4}},
                                                        {"1.5k", {ValueKind::ohms, 1500}},
                                                        {"680 \xCE\xA9", {ValueKind::ohms, 680}},
                                                        {"2.2 kohm", {ValueKind::ohms, 2200}},
                                                        {"20M", {ValueKind::ohms, 2e7}},
                                                        {"23.9V", {ValueKind::volts, 23.9}},
                                                        {"-0.1 V", {ValueKind::volts, -0.1}},
                                                        {"lit", {ValueKind::lit, 0}},
                                                        {"dark", {ValueKind::dark, 0}},
                                                        {"count=2", {ValueKind::count, 2}},
                                                        {"Durchgang", {ValueKind::beep, 0}},
                                                        {"no beep", {ValueKind::open, 0}},
                                                        {"kein Durchgang", {ValueKind::open, 0}},
                                                        {"offen", {ValueKind::open, 0}},
                                                        {"0L", {ValueKind::over_range, 0}},
                                                        {"O.L", {ValueKind::over_range, 0}},
                                                        {"\xE2\x88\x9E", {ValueKind::over_range, 0}}};
  for (const auto& [text, value] : cases) {
    const auto made = parse_value(text);
    ASSERT_TRUE(made) << text;
    EXPECT_EQ(made->kind, value.kind) << text;
    EXPECT_DOUBLE_EQ(made->number, value.number) << text;
  }
}

TEST(ReadingValues, NothingElseIsAReading) {
  // What may be said of the wire as well as of the meter is none.
  for (const char* text :
       {"ok",         "0.l",          "i.O.",   "x", "-",   "ja",    "nein", "no",    "kein",
        "nicht",      "no  beep",     "L",      "",  "yes", "1.2.3", "-4",   "beep!", "count=1.5",
        "count=1e10", "count=-1e300", "1e308k", "k", "nan", "inf",   "0x10"})
    EXPECT_FALSE(parse_value(text)) << text;
}

TEST(ReadingTimes, FollowRfc3339) {
  // RFC 3339, section 5.8: two of its examples name the same instant.
  EXPECT_DOUBLE_EQ(*seconds_of_time("1996-12-19T16:39:57-08:00"), *seconds_of_time("1996-12-20T00:39:57Z"));
  EXPECT_DOUBLE_EQ(*seconds_of_time("1970-01-01T00:00:00Z"), 0);
  EXPECT_DOUBLE_EQ(*seconds_of_time("1985-04-12T23:20:50.52Z"), 482196050.52);
  for (const char* text : {"2026-03-02", "2026-13-02T07:15:00Z", "2026-02-29T07:15:00Z",
                           "2026-03-02T07:15:00", "2026-03-02T25:15:00Z"})
    EXPECT_FALSE(seconds_of_time(text)) << text;
}

}  // namespace
}  // namespace ringtrue
