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
      "least_single_share = 0.003\n"
      "[priors]\nblown_fuse = 0.01\n");
  ASSERT_TRUE(settings);
  EXPECT_EQ(settings->copper.hottest_c, 25);
  EXPECT_EQ(settings->copper.length_tolerance, 0.05);
  EXPECT_EQ(settings->diagnose.max_faults, 2u);
  EXPECT_EQ(settings->diagnose.least_share, 0.1);
  EXPECT_EQ(settings->diagnose.least_single_share, 0.003);
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

class PriorsTest : public SettingsTest {
 protected:
  Result<Priors> read_over(std::string_view toml, const Priors& priors = {}) {
    return read_priors(folder_.write("priors.toml", toml), priors);
  }
  std::string error_in(std::string_view toml) {
    const auto priors = read_over(toml);
    return priors ? "" : folder_.without_folder(to_text(priors.error().front()));
  }
};

TEST_F(PriorsTest, KeysAtTheTopOrInATable) {
  for (const std::string heading : {"", "[priors]\n"}) {
    const auto priors = read_over(heading + "blown_fuse = 0.01\nswap_strip = 1e-6\n");
    ASSERT_TRUE(priors);
    EXPECT_EQ(priors->blown_fuse, 0.01);
    EXPECT_EQ(priors->swap_strip, 1e-6);
  }
}

TEST_F(PriorsTest, WhatIsLeftOutStaysAsItWas) {
  Priors before;
  before.open_conductor = 0.002, before.blown_fuse = 0.003;
  const auto priors = read_over("blown_fuse = 0.01\n", before);
  ASSERT_TRUE(priors);
  EXPECT_EQ(priors->open_conductor, 0.002);
  EXPECT_EQ(priors->blown_fuse, 0.01);
  EXPECT_EQ(priors->missing_bridge, Priors{}.missing_bridge);
}

TEST_F(PriorsTest, MisspeltKeyGetsTheNearestNames) {
  EXPECT_EQ(error_in("\nblown_fuze = 0.01\n"),
            "priors.toml:2: blown_fuze: not a prior: found \"blown_fuze\"; nearest: blown_fuse");
  EXPECT_EQ(error_in("[priors]\nblown_fuze = 0.01\n"),
            "priors.toml:2: priors.blown_fuze: not a prior: found \"blown_fuze\"; nearest: blown_fuse");
}

TEST_F(PriorsTest, ValueOutOfRange) {
  EXPECT_EQ(
      error_in("blown_fuse = 0.6\n"),
      "priors.toml:1: blown_fuse: a value that does not fit: found \"0.6\", expected a probability above "
      "0 and up to 0.5");
  EXPECT_NE(error_in("blown_fuse = 0\n"), "");
  EXPECT_NE(error_in("blown_fuse = 'often'\n"), "");
}

TEST_F(PriorsTest, OtherTables) {
  EXPECT_EQ(error_in("[prior]\nblown_fuse = 0.01\n"),
            "priors.toml:1: prior: not a table of the settings: found \"prior\", expected [priors]; nearest: "
            "priors");
  EXPECT_NE(error_in("[copper]\nhottest_c = 60\n[priors]\nblown_fuse = 0.01\n"), "");
  EXPECT_NE(error_in("open_conductor = 0.01\n[priors]\nblown_fuse = 0.01\n"), "");
}

TEST_F(PriorsTest, MissingFile) {
  const auto priors = read_priors(folder_.path() / "none.toml", {});
  ASSERT_FALSE(priors);
  EXPECT_EQ(priors.error().front().code, ErrorCode::file_unreadable);
}

}  // namespace
}  // namespace ringtrue::cli
