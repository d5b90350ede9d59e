#include "ringtrue/model/io_results.hpp"

#include <gtest/gtest.h>

#include <string>

namespace ringtrue {
namespace {

IoResultRow good_row() {
  IoResultRow row;
  row.channel = "A1:0.3", row.stimulus = "jumper", row.at = "X1:5.ext", row.given = "24V";
  row.expected = "lit", row.led = "lit", row.bit = "1", row.only_this = "yes", row.verdict = "pass";
  row.time = "2026-03-02T09:00:00Z", row.by = "A";
  return row;
}

TEST(IoResults, ARowIsReadWithItsWords) {
  const auto result = io_result_from_row(good_row(), 2, "results.csv");
  ASSERT_TRUE(result);
  EXPECT_EQ(result->channel, "A1:0.3");
  EXPECT_EQ(result->stimulus, Stimulus::jumper);
  EXPECT_EQ(result->led, LedSeen::lit);
  EXPECT_EQ(result->bit, BitRead::one);
  EXPECT_EQ(result->only_this, OnlyThis::yes);
  EXPECT_EQ(result->verdict, IoVerdict::pass);
  EXPECT_EQ(result->line, 2u);
}

std::string error_of(std::string_view IoResultRow::*field, std::string_view text) {
  IoResultRow row = good_row();
  row.*field = text;
  const auto result = io_result_from_row(row, 2, "results.csv");
  return result ? "" : to_text(result.error().front());
}

TEST(IoResults, WhatIsWrongIsTold) {
  EXPECT_EQ(error_of(&IoResultRow::channel, ""),
            "results.csv:2: channel: the field is empty: expected the channel that was tried");
  EXPECT_EQ(error_of(&IoResultRow::stimulus, "wished"),
            "results.csv:2: stimulus: unknown word: found \"wished\", expected jumper, operated, simulator, "
            "logic, forced or substitute");
  EXPECT_EQ(error_of(&IoResultRow::stimulus, "").substr(0, 43),
            "results.csv:2: stimulus: the field is empty");
  EXPECT_EQ(error_of(&IoResultRow::led, "on"),
            "results.csv:2: led: unknown word: found \"on\", expected lit or dark");
  EXPECT_EQ(error_of(&IoResultRow::bit, "2"),
            "results.csv:2: bit: unknown word: found \"2\", expected 0 or 1");
  EXPECT_EQ(error_of(&IoResultRow::only_this, "maybe"),
            "results.csv:2: only_this: unknown word: found \"maybe\", expected yes, no or not looked");
  EXPECT_EQ(error_of(&IoResultRow::verdict, ""),
            "results.csv:2: verdict: the field is empty: expected pass, fail, incomplete or withdrawn");
  EXPECT_EQ(
      error_of(&IoResultRow::time, "noon"),
      "results.csv:2: time: not a time: found \"noon\", expected RFC 3339, such as 2026-03-02T07:15:00Z");
  EXPECT_EQ(error_of(&IoResultRow::by, ""), "results.csv:2: by: the field is empty: expected who tried it");
  EXPECT_EQ(error_of(&IoResultRow::led, ""), "");
}

std::string_view shown(ChannelType type, std::string_view led, std::string_view bit,
                       std::string_view only_this, std::string_view verdict = "pass") {
  IoResultRow row = good_row();
  row.led = led, row.bit = bit, row.only_this = only_this, row.verdict = verdict;
  return shown_by(*io_result_from_row(row, 2, "results.csv"), type);
}

TEST(IoResults, AnInputPassesOnlyWithLedBitAndNoOtherChannel) {
  using enum ChannelType;
  EXPECT_EQ(shown(DI, "lit", "1", "yes"), "pass");
  EXPECT_EQ(shown(DI, "dark", "0", "yes"), "pass");
  EXPECT_EQ(shown(DI, "lit", "", "yes"), "LED only");
  EXPECT_EQ(shown(DI, "lit", "", ""), "LED only");
  EXPECT_EQ(shown(DI, "lit", "1", ""), "incomplete");
  EXPECT_EQ(shown(DI, "lit", "1", "not looked"), "incomplete");
  EXPECT_EQ(shown(DI, "", "1", "yes"), "incomplete");
  EXPECT_EQ(shown(DI, "", "", ""), "incomplete");
  EXPECT_EQ(shown(DI, "lit", "1", "no"), "fail");
  EXPECT_EQ(shown(DI, "lit", "1", "yes", "fail"), "fail");
  EXPECT_EQ(shown(DO, "lit", "", ""), "pass");
  EXPECT_EQ(shown(AI, "", "", "", "fail"), "fail");
}

}  // namespace
}  // namespace ringtrue
