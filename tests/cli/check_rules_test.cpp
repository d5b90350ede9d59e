#include "cli/check_rules.hpp"

#include <gtest/gtest.h>

#include "support/temp_folder.hpp"

namespace ringtrue::cli {
namespace {

class CheckRulesTest : public testing::Test {
 protected:
  Result<CheckOptions> read(std::string_view toml) {
    return read_check_rules(folder_.write("rules.toml", toml));
  }
  std::string error_of(std::string_view toml) {
    const auto options = read(toml);
    return options ? "" : folder_.without_folder(to_text(options.error().front()));
  }
  testing_support::ScopedTempFolder folder_;
};

TEST_F(CheckRulesTest, AnEmptyFileChangesNothing) {
  const auto options = read("");
  ASSERT_TRUE(options);
  EXPECT_EQ(options->severities, CheckOptions().severities);
  EXPECT_EQ(options->numbering, Numbering::undecided);
  EXPECT_EQ(options->colours, ColourProfile::iec_60204_1);
  EXPECT_EQ(options->conductors_per_side, 2u);
}

TEST_F(CheckRulesTest, EveryKeyIsRead) {
  const auto options = read(
      "numbering = 'per-potential'\ncolours = 'NFPA 79'\nconductors_per_side = 3\n"
      "[rules]\nlisted-twice = 'off'\nmissing-sheet = 'error'\n");
  ASSERT_TRUE(options);
  EXPECT_EQ(options->numbering, Numbering::per_potential);
  EXPECT_EQ(options->colours, ColourProfile::nfpa_79);
  EXPECT_EQ(options->conductors_per_side, 3u);
  EXPECT_EQ(options->severities[find_rule("listed-twice").value()], std::nullopt);
  EXPECT_EQ(options->severities[find_rule("missing-sheet").value()], Severity::error);
}

TEST_F(CheckRulesTest, MisspeltKeyGetsTheNearestNames) {
  EXPECT_EQ(error_of("\nnumberin = 'per-potential'\n"),
            "rules.toml:2: numberin: not a key of a rules file: found \"numberin\"; nearest: numbering");
}

TEST_F(CheckRulesTest, MisspeltRuleGetsTheNearestNames) {
  EXPECT_EQ(error_of("[rules]\nlisted-twce = 'off'\n"),
            "rules.toml:2: rules.listed-twce: not a rule: found \"listed-twce\"; nearest: listed-twice");
}

TEST_F(CheckRulesTest, ValuesThatDoNotFit) {
  EXPECT_EQ(
      error_of("[rules]\nlisted-twice = 'loud'\n"),
      "rules.toml:2: rules.listed-twice: a value that does not fit: found \"'loud'\", expected off, notice, "
      "warning or error");
  EXPECT_EQ(
      error_of("conductors_per_side = 0\n"),
      "rules.toml:1: conductors_per_side: a value that does not fit: found \"0\", expected a whole number "
      "from 1 to 99");
  EXPECT_EQ(
      error_of("colours = 79\n"),
      "rules.toml:1: colours: a value that does not fit: found \"79\", expected IEC 60204-1 or NFPA 79");
  EXPECT_EQ(error_of("rules = 'off'\n"),
            "rules.toml:1: rules: a value that does not fit: found \"'off'\", expected a table [rules]");
}

TEST_F(CheckRulesTest, AFileThatIsNotThereOrNoToml) {
  EXPECT_EQ(read_check_rules(folder_.path() / "none.toml").error().front().code, ErrorCode::file_unreadable);
  EXPECT_EQ(read("[rules\n").error().front().code, ErrorCode::bad_text);
}

}  // namespace
}  // namespace ringtrue::cli
