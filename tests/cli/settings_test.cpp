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
  const auto settings = read("[copper]\nhottest_c = 60\n");
  ASSERT_TRUE(settings);
  EXPECT_EQ(settings->copper.hottest_c, 60);
  EXPECT_EQ(settings->copper.length_tolerance, CopperSettings{}.length_tolerance);
  EXPECT_EQ(settings->diagnose.max_faults, DiagnoseOptions{}.max_faults);
}

TEST_F(SettingsTest, EveryTableIsRead) {
  const auto settings = read(
      "[copper]\nhottest_c = 25\nlength_tolerance = 0.05\n[diagnose]\nmax_faults = 2\nleast_share = 0.1\n"
      "[priors]\nblown_fuse = 0.01\n");
  ASSERT_TRUE(settings);
  EXPECT_EQ(settings->copper.hottest_c, 25);
  EXPECT_EQ(settings->copper.length_tolerance, 0.05);
  EXPECT_EQ(settings->diagnose.max_faults, 2u);
  EXPECT_EQ(settings->diagnose.least_share, 0.1);
  EXPECT_EQ(settings->diagnose.priors.blown_fuse, 0.01);
}

TEST_F(SettingsTest, MisspeltKeyGetsTheNearestNames) {
  EXPECT_EQ(error_of("[copper]\n\nhotest_c = 12\n"),
            "settings.toml:3: copper.hotest_c: not a setting: found \"hotest_c\"; nearest: hottest_c");
}

TEST_F(SettingsTest, MisspeltTableGetsTheNearestNames) {
  EXPECT_EQ(
      error_of("[coper]\nhottest_c = 12\n"),
      "settings.toml:1: coper: not a table of the settings: found \"coper\", expected [copper], [diagnose] "
      "or [priors]; nearest: copper");
}

TEST_F(SettingsTest, TextWhereANumberBelongs) {
  EXPECT_EQ(error_of("[copper]\nhottest_c = 'warm'\n"),
            "settings.toml:2: copper.hottest_c: a value that does not fit: found \"'warm'\", expected "
            "degrees Celsius from -50 to 200");
}

TEST_F(SettingsTest, NumbersOutOfRange) {
  EXPECT_NE(error_of("[diagnose]\nmax_faults = 0\n"), "");
  EXPECT_NE(error_of("[diagnose]\nmax_faults = 2.5\n"), "");
  EXPECT_NE(error_of("[priors]\nblown_fuse = 1.0\n"), "");
  EXPECT_NE(error_of("[copper]\nhottest_c = nan\n"), "");
}

TEST_F(SettingsTest, EveryMistakeIsToldAtOnce) {
  const auto settings = read("[copper]\na = 1\nb = 2\n[priors]\nc = 3\n");
  ASSERT_FALSE(settings);
  EXPECT_EQ(settings.error().size(), 3u);
}

TEST_F(SettingsTest, BrokenToml) {
  const auto settings = read("[copper\n");
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
