// Readings and clamps as somebody types them at the panel.
#include "ringtrue/live/entry.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "ringtrue/load/load.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class Typed : public ::testing::Test {
 protected:
  static const Drawing& quickstart() {
    static const Drawing drawing(std::move(load_netlist(RINGTRUE_NETLISTS "/quickstart").value()));
    return drawing;
  }
  static const Meters& meters() {
    static const Meters all = load_meters(RINGTRUE_NETLISTS "/quickstart/meters.csv").value();
    return all;
  }
  static ReadingRow row(std::string_view from, std::string_view to, std::string_view value,
                        std::string_view conditions = "") {
    ReadingRow row;
    row.from = from, row.to = to, row.value = value, row.conditions = conditions;
    return row;
  }
  static Result<Entry> made(const ReadingRow& typed, const Drawing& drawing = quickstart()) {
    return make_entry(drawing, meters(), {}, typed);
  }
  /// `S1:13 | A1:0.1 | agrees`, or the mistakes.
  static std::string said(const ReadingRow& typed, const Drawing& drawing = quickstart()) {
    const auto entry = made(typed, drawing);
    if (entry) return entry->from + " | " + entry->to + " | " + std::string(word(entry->standing()));
    std::string text;
    for (const Error& error : entry.error()) text += (text.empty() ? "" : "\n") + to_text(error);
    return text;
  }
};

TEST_F(Typed, PointsInAnyCase) {
  EXPECT_EQ(said(row("s1:14", "a1:0.1", "beep")), "S1:14 | A1:0.1 | agrees");
  EXPECT_EQ(said(row("x1:6.int", "g1:-", "beep")), "X1:6.int | G1:- | agrees");
  EXPECT_EQ(said(row("=GD1+A-S1:14", "-a1:0.1", "BEEP")), "S1:14 | A1:0.1 | agrees");
  EXPECT_EQ(said(row("x1:6.INT", "G1:-", "beep")), "X1:6.int | G1:- | agrees");
  EXPECT_THAT(said(row("G1:-", "g1:-", "beep")), StartsWith("to: both probes are on the same point"));
  const Drawing two_cases(netlist("1 K1:a1 K1:A1\n"));
  EXPECT_EQ(said(row("K1:a1", "K1:A1", "beep"), two_cases), "K1:a1 | K1:A1 | agrees");
  EXPECT_THAT(said(row("k1:A1", "K1:a1", "beep"), two_cases), StartsWith("from: "));
}

TEST_F(Typed, AWireNumberAloneStandsForBothEnds) {
  EXPECT_EQ(said(row("4", "", "beep")), "S1:14 | A1:0.1 | agrees");
  EXPECT_EQ(said(row("14", "", "open")), "K1:14 | X1:5.int | disagrees");
  EXPECT_THAT(said(row("99", "", "beep")), StartsWith("from: the drawing has no such wire: found \"99\""));
  EXPECT_THAT(said(row("S1:13", "", "beep")), StartsWith("from: the drawing has no such wire"));
  const Drawing letters(netlist("W1a K1:A1 X1:1\nw2 K2:A1 X1:2\nW2 K2:A2 X1:3\n"));
  EXPECT_EQ(said(row("w1A", "", "beep"), letters), "K1:A1 | X1:1.int | agrees");
  EXPECT_EQ(said(row("w2", "", "beep"), letters), "K2:A1 | X1:2.int | agrees");
  const Drawing twice(netlist("1 K1:A1 X1:1\n1 K2:A1 X1:2\n"));
  EXPECT_THAT(said(row("1", "", "beep"), twice), HasSubstr("K1:A1 X1:1.int, K2:A1 X1:2.int"));
}

TEST_F(Typed, NoNameIsNoWire) {
  const Drawing one_bridge(netlist("1 K1:A1 X1:1.int\n- X1:1.int X1:2.int bridge\n"));
  EXPECT_THAT(said(row("", "", "beep"), one_bridge), StartsWith("from: "));
  EXPECT_THAT(said(row("", "K1:A1", "beep"), one_bridge), StartsWith("from: "));
  EXPECT_FALSE(find_clamps(one_bridge, "X1:9")) << "the drawing has none";
}

TEST_F(Typed, TagsAndAddressesStandForTheChannelsPoint) {
  EXPECT_EQ(said(row("s1:14", "START_AUGER", "beep")), "S1:14 | A1:0.1 | agrees");
  EXPECT_EQ(said(row("%ix0.1", "s1:14", "beep")), "A1:0.1 | S1:14 | agrees");
  EXPECT_EQ(said(row("start_auger", "s1:14", "beep")), "A1:0.1 | S1:14 | agrees");
  EXPECT_EQ(said(row("5", "%QX1.1", "open")), "X1:4.int | A1:1.1 | agrees") << "a wire number: its first end";
}

TEST_F(Typed, TerminalsWithoutASide) {
  EXPECT_EQ(said(row("X1:4", "A1:0.0", "beep")), "X1:4 | A1:0.0 | agrees");
  const auto entry = made(row("x1:4", "A1:0.0", "beep"));
  ASSERT_TRUE(entry);
  EXPECT_TRUE(entry->comparison.probings.at(0).from_either_side);
  for (const char* side : {"X1:4.int", "X1:4.ext"})
    EXPECT_EQ(said(row(side, "A1:0.0", "beep")), std::string(side) + " | A1:0.0 | agrees");
  const std::string refused = said(row("X1:1", "X1:2", "beep"));
  EXPECT_THAT(refused, StartsWith("from: "));
  EXPECT_THAT(refused, HasSubstr("X1:1.int"));
  EXPECT_THAT(refused, HasSubstr("X1:1.ext"));
  EXPECT_THAT(said(row("X1:2", "x1:1", "beep")), StartsWith("to: "));
}

TEST_F(Typed, LooseEndsTogetherWithTheirCondition) {
  EXPECT_EQ(said(row("5@X1:4.int", "A1:0.0", "beep", "5@X1:4.int=lifted")), "5@X1:4.int | A1:0.0 | agrees");
  EXPECT_EQ(said(row("5@X1:4.int", "X1:4.int", "open", "5@X1:4.int=lifted")),
            "5@X1:4.int | X1:4.int | agrees");
  EXPECT_EQ(said(row("5@X1:4.int", "X1:4.int", "beep", "5@X1:4.int=lifted")),
            "5@X1:4.int | X1:4.int | disagrees");
  EXPECT_THAT(said(row("5@X1:4.int", "A1:0.0", "beep")), HasSubstr("5@X1:4.int"));
  EXPECT_FALSE(made(row("5@X1:4.int", "A1:0.0", "beep")));
  EXPECT_FALSE(made(row("99@X1:4.int", "A1:0.0", "beep", "5@X1:4.int=lifted")));
}

TEST_F(Typed, UnknownNamesAreToldWithNearOnes) {
  EXPECT_EQ(
      said(row("S1:15", "A1:0.1", "beep")),
      "from: the drawing has no such point: found \"S1:15\", expected a point, wire number, tag or address "
      "of the drawing; nearest: S1:13, S1:14");
  EXPECT_THAT(said(row("S1:13", "A1:0.9", "beep")),
              StartsWith("to: the drawing has no such point: found \"A1:0.9\""));
  for (const std::string& hostile : {std::string(5000, 'X'), std::string(1, '\0'), std::string("\xff\xfe"),
                                     std::string("@"), std::string(";"), std::string("="), std::string(" ")})
    EXPECT_FALSE(made(row(hostile, "A1:0.1", "beep", ""))) << hostile.substr(0, 10);
}

TEST_F(Typed, WrongValuesAreRefused) {
  EXPECT_THAT(said(row("S1:14", "A1:0.1", "")), StartsWith("value: "));
  for (const char* value : {"bleep", "-3", "1..5", "nan", "inf", "1e999", "24VV", "count=x"})
    EXPECT_THAT(said(row("S1:14", "A1:0.1", value)), StartsWith("value: ")) << value;
}

TEST_F(Typed, WrongConditionsAreRefused) {
  EXPECT_THAT(said(row("S1:14", "A1:0.1", "beep", "S9=operated")), StartsWith("conditions: "));
  EXPECT_THAT(said(row("S1:14", "A1:0.1", "beep", "S1")), StartsWith("conditions: "));
  EXPECT_THAT(said(row("S1:14", "A1:0.1", "beep", "S1=out")), StartsWith("conditions: "));
  EXPECT_THAT(said(row("S1:14", "A1:0.1", "beep", "power=on")), StartsWith("conditions: "));
  EXPECT_EQ(said(row("S1:13", "A1:0.1", "beep", "S1=operated")), "S1:13 | A1:0.1 | agrees");
}

TEST_F(Typed, AnUnknownMeterIsRefused) {
  ReadingRow typed = row("S1:14", "A1:0.1", "beep");
  typed.meter = "M1";
  EXPECT_EQ(said(typed), "S1:14 | A1:0.1 | agrees");
  typed.meter = "M9";
  EXPECT_THAT(said(typed), StartsWith("meter: "));
  EXPECT_THAT(said(typed), HasSubstr("M1"));
}

TEST_F(Typed, ATimeThatIsNoneIsRefused) {
  ReadingRow typed = row("S1:14", "A1:0.1", "beep");
  typed.time = "yesterday";
  EXPECT_FALSE(made(typed));
}

TEST_F(Typed, OnePointIsEnoughForALampOrVolts) {
  EXPECT_EQ(said(row("p1:X1", "", "lit")), "P1:x1 |  | either");
  EXPECT_EQ(said(row("X1:3", "", "dark")), "X1:3 |  | either");
  EXPECT_EQ(said(row("X1:3", "G1:-", "23.9V", "power=on")), "X1:3 | G1:- | either");
  EXPECT_EQ(said(row("X1:3", "", "23.9V", "power=on")), "X1:3 |  | either");
  EXPECT_THAT(said(row("X9:3", "", "lit")), StartsWith("from: "));
}

TEST_F(Typed, TheEntryHoldsItsTexts) {
  Result<Entry> entry = [] {
    const std::string from = "s1:14", to = "a1:0.1", value = "beep", time = "2026-03-02T09:00:00Z",
                      by = "wireman A", meter = "M1", id = "T1",
                      note = "a long note that would not fit into the object";
    ReadingRow typed = row(from, to, value);
    typed.time = time, typed.by = by, typed.meter = meter, typed.id = id, typed.note = note;
    return made(typed);
  }();
  ASSERT_TRUE(entry);
  const Entry copy = std::move(*entry);
  const Readings& reading = copy.reading;
  EXPECT_EQ(reading.rows.at(0).from, "S1:14");
  EXPECT_EQ(reading.rows.at(0).to, "A1:0.1");
  EXPECT_EQ(reading.text.get(ReadingText::by, 0), "wireman A");
  EXPECT_EQ(reading.text.get(ReadingText::note, 0), "a long note that would not fit into the object");
  EXPECT_EQ(reading.name(ReadingId{0}), "T1");
}

TEST_F(Typed, ClampsAsThePointsOfAReading) {
  const auto clamps = [](std::string_view typed) {
    const auto found = find_clamps(quickstart(), typed);
    return found ? *found : to_text(found.error().front());
  };
  EXPECT_EQ(clamps("k1:14;x1:5.int ;  START_AUGER"), "K1:14; X1:5.int; A1:0.1");
  EXPECT_EQ(clamps("X1:4"), "X1:4");
  EXPECT_EQ(clamps(";; S1:13 ;"), "S1:13");
  EXPECT_EQ(clamps(""), "");
  EXPECT_THAT(clamps("S1:13; X9:9"), StartsWith("points: the drawing has no such point: found \"X9:9\""));
  EXPECT_THAT(clamps("X1:1"), HasSubstr("X1:1.ext")) << "separable: which side?";
}

}  // namespace
}  // namespace ringtrue::testing
