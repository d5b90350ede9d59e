#include "cli/settings.hpp"

#include <gtest/gtest.h>

#include "support/temp_folder.hpp"

namespace ringtrue::cli {
namespace {

class SettingsTest : public testing::Test {
 protected:
  Result<Settings> read(std::string_view toml) { return read_settings(folder_.write("settings.toml", toml)); }
  std::string error_of(std::string_view toml) {
    const auto settings = read(toml);
    return settings ? "" : folder_.without_folder(to_text(settings.error().front()));
  }
  testing_support::ScopedTempFolder folder_;
};

TEST_F(SettingsTest, WhatIsLeftOutKeepsItsDefault) {
  const auto settings = read("[meter]\nthreshold_ohms = 12\n");
  ASSERT_TRUE(settings);
  EXPECT_EQ(settings->meter.threshold, Ohms{12});
  EXPECT_EQ(settings->meter.lead_allowance, MeterSettings{}.lead_allowance);
  EXPECT_EQ(settings->diagnose.max_faults, DiagnoseOptions{}.max_faults);
}

TEST_F(SettingsTest, EveryTableIsRead) {
  const auto settings = read(
      "[meter]\nrange_ohms = 2e7\naccuracy = 0.01\n[diagnose]\nmax_faults = 2\nleast_share = 0.1\n"
      "[priors]\nblown_fuse = 0.01\n");
  ASSERT_TRUE(settings);
  EXPECT_EQ(settings->meter.range, Ohms{2e7});
  EXPECT_EQ(settings->meter.accuracy, 0.01);
  EXPECT_EQ(settings->diagnose.max_faults, 2u);
  EXPECT_EQ(settings->diagnose.least_share, 0.1);
  EXPECT_EQ(settings->diagnose.priors.blown_fuse, 0.01);
}

TEST_F(SettingsTest, MisspeltKeyGetsTheNearestNames) {
  EXPECT_EQ(error_of("[meter]\n\ntreshold_ohms = 12\n"),
            "settings.toml:3: meter.treshold_ohms: not a setting: found \"treshold_ohms\"; nearest: "
            "threshold_ohms");
}

TEST_F(SettingsTest, MisspeltTableGetsTheNearestNames) {
  EXPECT_EQ(
      error_of("[metre]\nthreshold_ohms = 12\n"),
      "settings.toml:1: metre: not a table of the settings: found \"metre\", expected [meter], [diagnose] or "
      "[priors]; nearest: meter");
}

TEST_F(SettingsTest, TextWhereANumberBelongs) {
  EXPECT_EQ(error_of("[meter]\nthreshold_ohms = 'low'\n"),
            "settings.toml:2: meter.threshold_ohms: a value that does not fit: found \"'low'\", expected "
            "ohms above 0");
}

TEST_F(SettingsTest, NumbersOutOfRange) {
  EXPECT_NE(error_of("[diagnose]\nmax_faults = 0\n"), "");
  EXPECT_NE(error_of("[diagnose]\nmax_faults = 2.5\n"), "");
  EXPECT_NE(error_of("[priors]\nblown_fuse = 1.0\n"), "");
  EXPECT_NE(error_of("[meter]\nthreshold_ohms = nan\n"), "");
}

TEST_F(SettingsTest, EveryMistakeIsToldAtOnce) {
  const auto settings = read("[meter]\na = 1\nb = 2\n[priors]\nc = 3\n");
  ASSERT_FALSE(settings);
  EXPECT_EQ(settings.error().size(), 3u);
}

TEST_F(SettingsTest, BrokenToml) {
  const auto settings = read("[meter\n");
  ASSERT_FALSE(settings);
  EXPECT_EQ(settings.error().front().code, ErrorCode::bad_text);
  EXPECT_EQ(settings.error().front().place.line, 1u);
}

TEST_F(SettingsTest, MissingFile) {
  const auto settings = read_settings(folder_.path() / "none.toml");
  ASSERT_FALSE(settings);
  EXPECT_EQ(settings.error().front().code, ErrorCode::file_unreadable);
}

}  // namespace
}  // namespace ringtrue::cli
