#include "cli/log/names.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "ringtrue/load/load.hpp"

namespace ringtrue::cli::log {
namespace {

using testing::ElementsAre;

class LogNames : public testing::Test {
 protected:
  [[nodiscard]] Completion of(std::string_view line) const { return Names(netlist_).complete(line); }
  Netlist netlist_ = load_netlist(RINGTRUE_NETLISTS "/quickstart").value();
};

TEST_F(LogNames, OneNameInAnyCaseTakesTheWordsPlace) {
  const Completion made = of("s1:13 k1:1");
  EXPECT_EQ(made.begin, 6u);
  EXPECT_EQ(made.text, "K1:1");
  EXPECT_THAT(made.choices, ElementsAre("K1:11", "K1:12", "K1:14"));
  EXPECT_EQ(of("s1:13 k1:14").text, "K1:14 ");
  EXPECT_EQ(of("hopper").text, "HOPPER_FULL ");
  EXPECT_EQ(of("%ix0.1").text, "%IX0.1 ");
}

TEST_F(LogNames, AsFarAsAllChoicesGoTogether) {
  EXPECT_EQ(of("a1:0").text, "A1:0.");
  EXPECT_EQ(of("START").text, "START_AUGER ");
  EXPECT_EQ(of("x").text, "X1:");
  EXPECT_THAT(of("x1:5").choices, ElementsAre("X1:5", "X1:5.ext", "X1:5.int"));
}

TEST_F(LogNames, CommandsOnlyAtTheBeginning) {
  EXPECT_EQ(of("fin").text, "findings ");
  EXPECT_THAT(of("a1:m fin").choices, ElementsAre());
  EXPECT_EQ(of("a1:m fin").text, "fin");
}

TEST_F(LogNames, BehindWhenObjectsAndStates) {
  EXPECT_THAT(of("when s").choices, ElementsAre("S1"));
  EXPECT_EQ(of("when s").text, "S1");
  EXPECT_EQ(of("when S1=op").begin, 8u);
  EXPECT_THAT(of("when S1=op").choices, ElementsAre("operated", "open"));
  EXPECT_EQ(of("when S1=operated;k").text, "K1");
}

TEST_F(LogNames, BehindAChannelWhatATestShows) {
  EXPECT_EQ(of("start_auger li").text, "lit ");
  EXPECT_EQ(of("START_AUGER lit da").text, "dark ");
  EXPECT_EQ(of("io a1:0.1 unp").text, "unproven=");
  EXPECT_THAT(of("START_AUGER lit bit").choices, ElementsAre("bit=0", "bit=1"));
  EXPECT_EQ(of("START_AUGER k1:a1").text, "K1:A1 ") << "a second point of a reading all the same";
  EXPECT_THAT(of("x1:5 li").choices, ElementsAre());
}

TEST_F(LogNames, ANameWithBlanksIsPutInQuotationMarks) {
  for (std::string_view name : {"VENT ON", "VENT OFF"}) {
    netlist_.channels.front().tag = name;
    EXPECT_EQ(of("vent").text, "\"" + std::string(name) + "\" ");
    EXPECT_EQ(of("x1:5 \"vent o").begin, 5u);
    EXPECT_EQ(of("x1:5 \"vent o").text, "\"" + std::string(name) + "\" ");
    EXPECT_EQ(of("\"" + std::string(name) + "\" li").text, "lit ");
  }
  netlist_.channels.back().tag = "VENT ON";
  EXPECT_THAT(of("vent").choices, ElementsAre("VENT OFF", "VENT ON"));
  EXPECT_EQ(of("vent").text, "\"VENT O");
  EXPECT_EQ(of("\"VENT O").text, "\"VENT O");
  EXPECT_EQ(of("\"fin").text, "\"fin") << "no command";
}

TEST_F(LogNames, SeveralPointsOfAChange) { EXPECT_EQ(of("changed S1:13;s1:14").text, "S1:14 "); }

}  // namespace
}  // namespace ringtrue::cli::log
