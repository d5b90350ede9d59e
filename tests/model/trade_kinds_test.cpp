#include "model/trade_kinds.hpp"

#include <gtest/gtest.h>

namespace ringtrue {
namespace {

TEST(TradeKinds, OwnWordsInAnyCase) {
  EXPECT_EQ(from_trade_word<PartKind>("Contact NO"), PartKind::contact_no);
  EXPECT_EQ(from_trade_word<PartKind>("PE_TERMINAL"), PartKind::pe_terminal);
  EXPECT_EQ(from_trade_word<ChannelType>("di"), ChannelType::DI);
  EXPECT_EQ(from_trade_word<PotentialKind>("DC+"), PotentialKind::dc_plus);
  EXPECT_EQ(from_trade_word<Safety>("Marked"), Safety::marked);
}

TEST(TradeKinds, WordsOfTheTrade) {
  EXPECT_EQ(from_trade_word<ConductorKind>("Br\xC3\xBC"
                                           "cke"),
            ConductorKind::bridge);
  EXPECT_EQ(from_trade_word<ConductorKind>("jumper"), ConductorKind::bridge);
  EXPECT_EQ(from_trade_word<PartKind>("Sicherung"), PartKind::fuse);
  EXPECT_EQ(from_trade_word<PartKind>("\xC3\x96"
                                      "ffner"),
            PartKind::contact_nc);
  EXPECT_EQ(from_trade_word<PartKind>("Schlie\xC3\x9F"
                                      "er"),
            PartKind::contact_no);
  EXPECT_EQ(from_trade_word<ChannelType>("Digital input"), ChannelType::DI);
  EXPECT_EQ(from_trade_word<Sense>("sinking"), Sense::sink);
  EXPECT_EQ(from_trade_word<Sensor>("Dry contact"), Sensor::contact);
  EXPECT_EQ(from_trade_word<Sensor>("2-wire"), Sensor::two_wire);
}

/// What the missing field means has no word.
TEST(TradeKinds, NothingElse) {
  for (const char* text : {"", " ", "-", "contact", "relay", "\xC3", "sicherungen"})
    EXPECT_EQ(from_trade_word<PartKind>(text), std::nullopt) << text;
  EXPECT_EQ(from_trade_word<Sensor>("NO"), std::nullopt);
}

}  // namespace
}  // namespace ringtrue
