#include <gtest/gtest.h>

#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

class LoadReadings : public ::testing::Test {
 protected:
  Result<Readings> load(std::string_view text) { return load_readings(folder_.write("readings.csv", text)); }
  Result<Events> load_as_events(std::string_view text) {
    return load_events(folder_.write("events.csv", text));
  }

  ScopedTempFolder folder_;
};

TEST_F(LoadReadings, RowsComeInTheFilesOrder) {
  const auto readings =
      load("from;to;value;conditions;id\nX1:1.int;K1:A1;beep;;R1\n\nK1:A1;K1:A2;1,5k;K1=operated;R2\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  ASSERT_EQ(readings->rows.size(), 2u);
  EXPECT_EQ(folder_.without_folder(readings->file), "readings.csv");
  EXPECT_EQ(readings->rows[0].from, "X1:1.int");
  EXPECT_EQ(readings->rows[0].to, "K1:A1");
  EXPECT_EQ(readings->rows[0].value, (ReadingValue{ValueKind::beep, 0}));
  EXPECT_EQ(readings->rows[0].line, 2u);
  EXPECT_EQ(readings->name(ReadingId{0}), "R1");
  EXPECT_EQ(readings->rows[1].value, (ReadingValue{ValueKind::ohms, 1500}));
  EXPECT_EQ(readings->rows[1].line, 4u);
  EXPECT_EQ(readings->conditions.at(readings->rows[1].condition), "K1=operated");
}

TEST_F(LoadReadings, TextsOutliveTheLoader) {
  auto readings = load("from,to,value,note\nX1:1.int,K1:A1,open,\"clamp \"\"5\"\" loose\"\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  const Readings kept = std::move(*readings);
  EXPECT_EQ(kept.text.get(ReadingText::note, 0), "clamp \"5\" loose");
}

TEST_F(LoadReadings, ABareOneIsOhmsOnlyAmongOtherOhms) {
  const auto told = [&](std::string_view rows) {
    const auto readings = load("from,to,value\n" + std::string(rows));
    return readings ? std::to_string(readings->rows.size()) + " rows" : errors_of(readings, folder_);
  };
  const auto at_line = [](int line) {
    return "readings.csv:" + std::to_string(line) +
           ": value: a bare 1 may be ohms, a yes, or a meter over range: found \"1\", expected 1 ohm, beep "
           "or OL";
  };
  EXPECT_EQ(told("K1:A1,X1:1,0\nK1:A2,X1:2,1\nK1:11,X1:3,1\n"), at_line(3));
  EXPECT_EQ(told("K1:A1,X1:1,beep\nK1:A2,X1:2,1\n"), at_line(3));
  EXPECT_EQ(told("K1:A1,X1:1,1\nX1:4,,23.9V\nK1:A2,X1:2,0L\n"), at_line(2)) << "no ohms beside it";
  EXPECT_EQ(told("K1:A1,X1:1,1\nK1:A2,X1:2,0.4\n"), "2 rows");
  EXPECT_EQ(told("K1:A1,X1:1,2 ohm\nK1:A2,X1:2,1\n"), "2 rows");
  EXPECT_EQ(told("K1:A1,X1:1,0\nK1:A2,X1:2,beep\n"), "2 rows");
  EXPECT_EQ(told("K1:A1,X1:1,1 ohm\nK1:A2,X1:2,1.0\n"), "2 rows");
}

TEST_F(LoadReadings, UnknownColumnIsNoted) {
  const auto readings = load("from,to,value,metre\nX1:1.int,K1:A1,open,M1\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  EXPECT_EQ(notes_of(readings->notes, folder_), "readings.csv:1: column \"metre\" ignored; nearest: meter");
}

TEST_F(LoadReadings, DeviceAndPinMayStandInTwoColumnsAsInAWireList) {
  const auto readings =
      load("Von BMK;Anschluss;Nach BMK;Anschluss;Wert\nK1;A1;X1;5.int;beep\nX1:5;5;K1;A2;open\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  EXPECT_EQ(std::string(readings->rows[0].from) + " " + std::string(readings->rows[0].to), "K1:A1 X1:5.int");
  EXPECT_EQ(std::string(readings->rows[1].from) + " " + std::string(readings->rows[1].to), "X1:5 K1:A2");
  EXPECT_EQ(errors_of(load("from,from_pin,to,value\nX1:5,6,K1:A1,beep\n"), folder_),
            "readings.csv:2: from_pin: the end says another pin itself: found \"6 beside X1:5\", expected "
            "the pin in "
            "one of the two columns, or the same in both");
}

TEST_F(LoadReadings, ValueThatIsNoReadingIsToldWithItsPlace) {
  const auto readings = load("from,to,value\nX1:1.int,K1:A1,maybe\n");
  EXPECT_EQ(first_code(readings), ErrorCode::bad_reading);
  EXPECT_EQ(readings.error().front().place.line, 2u);
  EXPECT_EQ(readings.error().front().place.field, "value");
  EXPECT_EQ(readings.error().front().found, "maybe");
}

TEST_F(LoadReadings, RowsWithoutAValueAreNoReadingsYet) {
  const auto readings =
      load("from,to,value,id\nX1:1.int,K1:A1,,P1\nX1:2.int,K1:A2,beep,P2\nX1:3,K1:14, ,P3\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  ASSERT_EQ(readings->rows.size(), 1u);
  EXPECT_EQ(readings->name(ReadingId{0}), "P2");
  EXPECT_EQ(notes_of(readings->notes, folder_), "readings.csv:2: no value yet in 2 rows, passed over");
}

TEST_F(LoadReadings, OneRowWithoutAValueIsToldAsOne) {
  const auto readings = load("from,to,value\nX1:1.int,K1:A1,\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  EXPECT_TRUE(readings->rows.empty());
  EXPECT_EQ(notes_of(readings->notes, folder_), "readings.csv:2: no value yet in 1 row, passed over");
}

TEST_F(LoadReadings, ValueWithoutPointsIsAMistake) {
  const auto readings = load("from,to,value,id\n,,beep,\n");
  EXPECT_EQ(first_code(readings), ErrorCode::missing_field);
}

TEST_F(LoadReadings, WhatASheetSaysBesideTheReadingsIsPassedOver) {
  const auto readings =
      load("id,from,to,value,conditions,expect,sheet,proves\nP1,X1:1.int,K1:A1,open,,beep,1.2,wire 5\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  EXPECT_EQ(readings->rows.size(), 1u);
  EXPECT_EQ(notes_of(readings->notes, folder_), "");
}

TEST_F(LoadReadings, MarkOfATextCellIsNoPartOfAName) {
  const auto readings =
      load("id,from,to,value,conditions\n'-1,'=GD2-X1:1.int,'X1:2,beep,'=GD2-K1=operated\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  ASSERT_EQ(readings->rows.size(), 1u);
  EXPECT_EQ(readings->rows[0].from, "=GD2-X1:1.int");
  EXPECT_EQ(readings->rows[0].to, "'X1:2");
  EXPECT_EQ(readings->name(ReadingId{0}), "-1");
  EXPECT_EQ(readings->conditions.at(readings->rows[0].condition), "=GD2-K1=operated");
}

TEST_F(LoadReadings, MissingFileNamesTheNearest) {
  folder_.write("readings.csv", "");
  EXPECT_EQ(errors_of(load_readings(folder_.path() / "reading.csv"), folder_),
            "reading.csv: there is no such file; nearest: readings.csv");
}

TEST_F(LoadReadings, WireListIsNoFileOfReadings) {
  const auto readings = load("wire,from,to\n1,X1:1,K1:A1\n");
  EXPECT_EQ(first_code(readings), ErrorCode::missing_column);
  EXPECT_EQ(
      errors_of(readings, folder_),
      "readings.csv:1: value: the column is missing: found \"wire, from, to\", expected a header line with "
      "from, to and value (and, where wanted, time, by, conditions, meter, method, witness, note, id, "
      "from_pin, to_pin, supersedes, superseded_by and netlist), in the words of the trade, English or "
      "German; "
      "for a netlist also by a mapping file (ringtrue convert --help); value may be called reading, result, "
      "wert, "
      "messwert or anzeige");
}

TEST_F(LoadReadings, ColumnsMayBeGerman) {
  const auto readings = load("Von;Nach;Messwert;Bemerkung\nX1:1;K1:A1;beep;Klemme lose\n");
  ASSERT_TRUE(readings) << errors_of(readings, folder_);
  ASSERT_EQ(readings->rows.size(), 1u);
  EXPECT_EQ(readings->rows[0].from, "X1:1");
  EXPECT_EQ(readings->rows[0].to, "K1:A1");
  EXPECT_EQ(readings->rows[0].value, (ReadingValue{ValueKind::beep, 0}));
  EXPECT_EQ(readings->text.get(ReadingText::note, 0), "Klemme lose");
}

TEST_F(LoadReadings, FileAboveTheLimitIsRefused) {
  const auto path = folder_.write("readings.csv", "from,to,value\nX1:1.int,K1:A1,open\n");
  EXPECT_EQ(first_code(load_readings(path, LoadLimits{20})), ErrorCode::file_too_large);
}

TEST_F(LoadReadings, CutAtEveryLengthIsAMistakeOrFewerReadings) {
  const std::string text =
      "from,to,value,conditions\nX1:1.int,K1:A1,beep,\nK1:11,K1:14,\"1.5k\",K1=operated\nH1:x1,H1:x2,680,\n";
  ASSERT_EQ(load(text)->rows.size(), 3u);
  for (std::size_t length = 0; length < text.size(); ++length) {
    const auto readings = load(text.substr(0, length));
    EXPECT_TRUE(readings ? readings->rows.size() <= 3 : !readings.error().empty()) << length;
  }
}

TEST_F(LoadReadings, UnknownMethodIsTold) {
  EXPECT_EQ(errors_of(load("from,to,value,method\nX1:1.int,K1:A1,beep,buzer\n"), folder_),
            "readings.csv:2: method: unknown word: found \"buzer\", expected " + listed_words<Method>());
}

TEST_F(LoadReadings, AnEventWithoutPointsIsToldWhatItNames) {
  for (const char* points : {"", " ; "})
    EXPECT_EQ(errors_of(load_as_events("time,by,kind,points\n2026-03-02T09:00:00Z,A,repair," +
                                       std::string(points) + "\n"),
                        folder_),
              "events.csv:2: points: an event names every clamp that was opened: expected points such as "
              "X1:5.int; K1:A1");
}

TEST_F(LoadReadings, EventsNameEveryClampOpened) {
  const auto events = load_as_events(
      "time,by,kind,points,text,id\n2026-03-02T09:00:00+01:00,wireman A,repair,X1:5.int; K1:A1,\"landed, "
      "tightened\",E1\n");
  ASSERT_TRUE(events) << errors_of(events, folder_);
  ASSERT_EQ(events->rows.size(), 1u);
  EXPECT_EQ(folder_.without_folder(events->file), "events.csv");
  EXPECT_EQ(events->rows[0].kind, EventKind::repair);
  EXPECT_EQ(events->rows[0].points, (std::vector<std::string>{"X1:5.int", "K1:A1"}));
  EXPECT_EQ(events->rows[0].text, "landed, tightened");
  EXPECT_EQ(events->rows[0].line, 2u);
}

TEST_F(LoadReadings, UnknownColumnOfEventsIsNoted) {
  const auto events =
      load_as_events("time,by,kind,points,remark\n2026-03-02T09:00:00+01:00,A,repeat,X1:5.int,x\n");
  ASSERT_TRUE(events) << errors_of(events, folder_);
  EXPECT_EQ(notes_of(events->notes, folder_), "events.csv:1: column \"remark\" ignored");
}

TEST_F(LoadReadings, EventsGatherTheirMistakes) {
  const auto events = load_as_events(
      "time,by,kind,points\n2026-03-02T09:00:00+01:00,A,repaired,X1:5.int\nyesterday,A,repair,X1:5.int\n");
  ASSERT_FALSE(events);
  ASSERT_EQ(events.error().size(), 2u) << errors_of(events, folder_);
  EXPECT_EQ(events.error()[0].code, ErrorCode::unknown_kind);
  EXPECT_EQ(events.error()[0].place.line, 2u);
  EXPECT_EQ(events.error()[1].code, ErrorCode::bad_time);
  EXPECT_EQ(events.error()[1].place.line, 3u);
}

TEST_F(LoadReadings, MistakesOfEventsStopAtTheLimit) {
  std::string text = "time,by,kind,points\n";
  for (int i = 0; i < 80; ++i) text += "yesterday,A,repair,X1:5.int\n";
  const auto events = load_as_events(text);
  ASSERT_FALSE(events);
  EXPECT_EQ(events.error().size(), k_max_errors);
}

}  // namespace
}  // namespace ringtrue
