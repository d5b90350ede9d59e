#include "report/plan_words.hpp"

#include <gtest/gtest.h>

#include "tests/report/report_support.hpp"

namespace ringtrue::report {
namespace {

using testing_support::SmallPanel;

TEST(PlanWords, ConsecutiveNumbersStandTogether) {
  const auto ranges = [](std::vector<std::size_t> numbers) { return number_ranges(numbers); };
  EXPECT_EQ(ranges({}), "");
  EXPECT_EQ(ranges({4}), "4");
  EXPECT_EQ(ranges({1, 2}), "1, 2");
  EXPECT_EQ(ranges({1, 2, 3, 5, 7, 8, 9}), "1 to 3, 5, 7 to 9");
}

TEST(PlanWords, ClipsAreNamedFromTheFirstTest) {
  EXPECT_EQ(clips_of(0b001, 3), "BAA");
  EXPECT_EQ(clips_of(0b110, 3), "ABB");
  EXPECT_EQ(clips_of(0, 0), "");
}

TEST(PlanWords, WhatMustShow) {
  PlannedReading reading;
  EXPECT_EQ(must_show(reading), "beep");
  EXPECT_EQ(must_show_in_cell(reading), "beep");
  reading.expected = Expected::open;
  EXPECT_EQ(must_show(reading), "no beep");
  EXPECT_EQ(must_show_in_cell(reading), "open");
  reading.expected = Expected::ohms;
  reading.ohms = {Ohms{144}, Ohms{1760}};
  EXPECT_EQ(must_show(reading), "144 Ω to 1.76 kΩ");
  EXPECT_EQ(must_show_in_cell(reading), "144 ohm to 1.76 kohm");
}

class PlanWordsOfAPanel : public testing::Test {
 protected:
  PlanWordsOfAPanel() {
    for (const char* number : {"1", "2", "3"}) panel_.wire(number, "K1:A1", "K2:A1", "1.1");
    panel_.wire("4", "K2:A1", "S1:13", "1.2").part("S1", "contact-no", "13", "14", "1.3", "door");
  }
  NotCovered not_covered(std::string_view element, std::vector<std::string_view> witness,
                         WhyNotCovered why = WhyNotCovered::parallel) {
    NotCovered one{panel_.element(element), why, {}};
    for (const auto name : witness) one.witness.push_back(panel_.element(name));
    return one;
  }
  std::string reason(const AlikeNotCovered& alike) { return reason_words(alike, panel_.graph(), 5); }

  SmallPanel panel_;
};

TEST_F(PlanWordsOfAPanel, RingIsToldOnce) {
  const std::vector<NotCovered> all = {not_covered("1", {"2", "3"}), not_covered("2", {"3", "1"}),
                                       not_covered("3", {"1", "2"})};
  const auto groups = alike_together(all);
  ASSERT_EQ(groups.size(), 1u);
  EXPECT_EQ(groups[0].elements.size(), 3u);
  EXPECT_EQ(reason(groups[0]), "a break of one is hidden by the others");
}

TEST_F(PlanWordsOfAPanel, TwoInParallelHideEachOther) {
  const std::vector<NotCovered> all = {not_covered("1", {"2"}), not_covered("2", {"1"})};
  const auto groups = alike_together(all);
  ASSERT_EQ(groups.size(), 1u);
  EXPECT_EQ(reason(groups[0]), "a break of one is hidden by the other");
}

TEST_F(PlanWordsOfAPanel, ElementsBesideTheSameCopperAreTogether) {
  const std::vector<NotCovered> all = {not_covered("1", {"3"}), not_covered("2", {"3"}),
                                       not_covered("3", {"1", "2"}, WhyNotCovered::needs_lift)};
  const auto groups = alike_together(all);
  ASSERT_EQ(groups.size(), 2u);
  EXPECT_EQ(reason(groups[0]), "a break of any is hidden by wire 3");
  EXPECT_EQ(reason(groups[1]), "a break is hidden by wires 1, 2 as long as no end is lifted");
}

TEST_F(PlanWordsOfAPanel, ReasonsWithoutAWitness) {
  EXPECT_EQ(reason(alike_together(std::vector{not_covered("1", {}, WhyNotCovered::value_not_stated)})[0]),
            "the drawing doesn't state its ohms");
  EXPECT_EQ(reason(alike_together(std::vector{not_covered("1", {}, WhyNotCovered::not_operable),
                                              not_covered("2", {}, WhyNotCovered::not_operable)})[0]),
            "nothing that can be operated closes them");
}

TEST_F(PlanWordsOfAPanel, PlaceNamesTheDoorAndTheSheets) {
  const auto place = [&](std::string_view from, std::string_view to) {
    return place_words({panel_.point(from), panel_.point(to)}, {}, panel_.graph());
  };
  EXPECT_EQ(place("K1:A1", "K1:A1"), "sheet 1.1");
  EXPECT_EQ(place("K1:A1", "S1:13"), "door S1:13; sheets 1.1, 1.2, 1.3");
}

}  // namespace
}  // namespace ringtrue::report
