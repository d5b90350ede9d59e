#include "ringtrue/live/numbering.hpp"

#include <gtest/gtest.h>

#include <set>
#include <thread>

#include "ringtrue/live/clock.hpp"
#include "support/temp_folder.hpp"

namespace ringtrue {
namespace {

template <class T>
T must(Result<T> result) {
  EXPECT_TRUE(result) << to_text(result.error().front());
  return std::move(result.value());
}

class NumberingTest : public testing::Test {
 protected:
  [[nodiscard]] Job open() const { return must(open_job(path_)); }
  static ReadingRow reading(std::string_view value) {
    ReadingRow row;
    row.from = "G1:+", row.to = "X1:1.int", row.value = value, row.id = "not looked at";
    return row;
  }
  testing_support::ScopedTempFolder folder_;
  std::filesystem::path path_ = folder_.path() / "panel.rtj";
  Job job_ = must(create_job(path_, {RINGTRUE_NETLISTS "/quickstart"}));
};

TEST_F(NumberingTest, GoesOnBehindTheGreatest) {
  ReadingRow row = reading("beep");
  for (const std::string_view id : {"R015", "R7", "R1x", "r99", "R", "R99999999999999999999", "S20"}) {
    row.id = id;
    must(job_.append(row));
  }
  Numbering numbering = must(Numbering::of(job_));
  EXPECT_EQ(must(numbering.append(job_, reading("beep"))), "R16");
  EXPECT_EQ(must(numbering.append(job_, reading("open"), "R16")), "R17");
  EXPECT_EQ(must(job_.find_reading("R17"))->supersedes, "R16");
}

TEST_F(NumberingTest, EveryKindHasItsOwn) {
  Numbering numbering = must(Numbering::of(job_));
  EventRow event;
  event.time = "2026-03-02T07:15:00Z", event.by = "A", event.kind = "repair", event.points = "X1:5.int";
  IoResultRow result;
  result.channel = "A1:0.0", result.stimulus = "jumper", result.verdict = "pass", result.by = "A";
  result.time = event.time;
  for (const std::string number : {"1", "2"}) {
    EXPECT_EQ(must(numbering.append(job_, reading("beep"))), "R" + number);
    EXPECT_EQ(must(numbering.append(job_, event)), "E" + number);
    EXPECT_EQ(must(numbering.append(job_, result)), "I" + number);
  }
  numbering = must(Numbering::of(job_));
  EXPECT_EQ(must(numbering.append(job_, reading("beep"))), "R3");
  EXPECT_EQ(must(numbering.append(job_, event)), "E3");
  EXPECT_EQ(must(numbering.append(job_, result)), "I3");
}

TEST_F(NumberingTest, ANumberThatAnotherTookIsPassedOverEvenByTheSameRow) {
  Job other = open();
  Numbering here = must(Numbering::of(job_)), there = must(Numbering::of(other));
  EXPECT_EQ(must(here.append(job_, reading("beep"))), "R1");
  EXPECT_EQ(must(there.append(other, reading("beep"))), "R2");
  EXPECT_EQ(must(there.append(other, reading("open"))), "R3");
  EXPECT_EQ(must(here.append(job_, reading("0.4"))), "R4");
  EXPECT_EQ(must(job_.journal(10)).size(), 4u);
}

TEST_F(NumberingTest, WhatTheJobRefusesTakesNoNumber) {
  Numbering numbering = must(Numbering::of(job_));
  const auto refused = numbering.append(job_, reading("beep"), "R9");
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().front().code, ErrorCode::unknown_reading);
  EXPECT_EQ(must(numbering.append(job_, reading("beep"))), "R1");
}

}  // namespace
}  // namespace ringtrue
