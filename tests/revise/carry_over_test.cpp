#include "ringtrue/revise/carry_over.hpp"

#include <gtest/gtest.h>

#include <deque>

#include "ringtrue/compare/compare.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

const std::string k_panel =
    "1 G1:+ X1:1.int\n2 X1:1.ext K1:A1\n3 K1:A2 G1:-\n4 K1:14 X1:2.int\npart K1 coil A1 A2 400\n"
    "part K1 contact-no 11 14\npart X1:1 terminal\npart X1:2 terminal\n";

std::string replaced(std::string text, const std::string& what, const std::string& by) {
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + by.size()))
    text.replace(at, what.size(), by);
  return text;
}

/// A panel's revisions, and readings and events of the first unless they say otherwise.
class CarryOver : public ::testing::Test {
 protected:
  void revise(const std::string& text, bool is_as_built = false) {
    earlier_.push_back(
        {static_cast<std::uint32_t>(earlier_.size() + 1), testing::netlist(text_), is_as_built});
    text_ = text;
  }
  void read(const std::string& line, std::size_t revision = 1) {
    lines_ += line + "\n";
    marks_.push_back(mark(revision));
  }
  void event(EventKind kind, const std::string& point, const std::string& time, std::size_t revision = 1) {
    Event made;
    made.kind = kind, made.points = {point}, made.time = time, made.netlist = mark(revision);
    events_.rows.push_back(made);
  }

  /// What becomes of the readings in the newest revision, a word each, and why.
  std::vector<std::string> standing() {
    net_ = testing::netlist(text_);
    readings_ = testing::readings(lines_);
    readings_.is_final = true;
    for (std::size_t i = 0; i < marks_.size(); ++i) readings_.text.set(ReadingText::netlist, i, marks_[i]);
    const ConductionGraph newest(net_);
    Events events = events_;
    if (!carry_over(earlier_, newest, {}, readings_, events, {})) throw std::runtime_error("not carried");
    const auto comparison = compare(newest, readings_, events);
    if (!comparison) throw std::runtime_error(to_text(comparison.error().front()));
    std::vector<std::string> words;
    for (std::uint32_t i = 0; i < comparison->standing.size(); ++i) {
      words.emplace_back(word(comparison->standing[i]));
      if (readings_.outdated.contains(i)) words.back() += ": " + readings_.outdated.at(i);
    }
    return words;
  }

  std::string text_ = k_panel;
  Readings readings_;

 private:
  static std::string mark(std::size_t revision) {
    return NetlistMark{static_cast<std::uint32_t>(revision), std::string(12, '0')}.text();
  }
  std::vector<EarlierNetlist> earlier_;
  std::string lines_;
  std::deque<std::string> marks_;
  Events events_;
  Netlist net_;
};

using Words = std::vector<std::string>;

TEST_F(CarryOver, AClampOpenedForTheRevisionMakesItsReadingsStale) {
  read("G1:+ X1:1.int beep"), read("K1:14 X1:2.int beep"), read("X1:1.ext K1:A1 beep");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing(),
            (Words{"stale: wire 5 was added at X1:1.int by revision 2 of the netlist", "agrees", "agrees"}));
}

TEST_F(CarryOver, AReadingOfTheNewestRevisionCounts) {
  read("G1:+ X1:1.int beep"), read("G1:+ X1:1.int beep", 2);
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing()[0].substr(0, 5), "stale");
  EXPECT_EQ(standing()[1], "agrees");
}

TEST_F(CarryOver, ADrawingThatWasChangedToWhatIsThereLeavesReadingsAsTheyAre) {
  read("G1:+ X1:2.int open"), read("G1:+ X1:1.int beep");
  revise(k_panel + "5 X1:1.int X1:2.int\n", true);
  EXPECT_EQ(standing(), (Words{"disagrees", "agrees"}));
}

TEST_F(CarryOver, WhatOneStepMadeStaleStaysSoThoughTheNextTakesItBack) {
  read("G1:+ X1:1.int beep"), read("K1:14 X1:2.int beep");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  revise(k_panel);
  EXPECT_EQ(standing(),
            (Words{"stale: wire 5 was added at X1:1.int by revision 2 of the netlist", "agrees"}));
}

TEST_F(CarryOver, AStepBeforeTheReadingWasTakenDoesNotTouchIt) {
  read("G1:+ X1:1.int beep", 2);
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  revise(k_panel + "5 X1:1.int X1:3.int\n6 X1:2.ext X1:4.int\n");
  EXPECT_EQ(standing(), (Words{"agrees"}));
}

TEST_F(CarryOver, ReadingsAndEventsGoByTheNewNamesOfRenamedParts) {
  read("G1:+ X1:1.int beep - 2026-03-02T08:00:00Z"), read("K1:A1 X1:1 beep - 2026-03-02T08:00:00Z");
  read("K1:11 K1:14 beep K1=operated"), read("4@K1:14 X1:2.int beep 4@K1:14=lifted");
  event(EventKind::repair, "X1:1.int", "2026-03-02T09:00:00Z");
  const std::string renamed =
      replaced(replaced(replaced(k_panel, "K1", "K11"), "X1", "X11"), "4 K11", "14 K11");
  revise(renamed);
  EXPECT_EQ(standing(), (Words{"stale", "agrees", "agrees", "agrees"}));
  EXPECT_EQ(readings_.rows[1].from, "K11:A1");
  EXPECT_EQ(readings_.rows[1].to, "X11:1");
  EXPECT_EQ(readings_.conditions[readings_.rows[2].condition], "K11=operated");
  EXPECT_EQ(readings_.rows[3].from, "14@K11:14");
  EXPECT_EQ(readings_.conditions[readings_.rows[3].condition], "14@K11:14=lifted");
}

TEST_F(CarryOver, AConditionOfBothRevisionsIsRenamedForTheOlderReadingAlone) {
  read("K1:11 K1:14 beep K1=operated"), read("K1:11 K1:14 open K1=operated", 2);
  // What was K1 is K2 now, and another relay is K1.
  revise(replaced(k_panel, "K1", "K2"));
  revise(replaced(k_panel, "K1", "K2") +
         "part K1 coil A1 A2 900\npart K1 contact-no 11 14\n7 K1:11 X9:1.int\n");
  EXPECT_EQ(standing(), (Words{"agrees", "stale: it did not count before revision 3 of the netlist"}));
  EXPECT_EQ(readings_.conditions[readings_.rows[0].condition], "K2=operated");
  EXPECT_EQ(readings_.conditions[readings_.rows[1].condition], "K1=operated");
}

TEST_F(CarryOver, AReadingOfWhatIsGoneIsStaleAndNotUnknown) {
  read("K1:14 X1:2.int beep");
  revise(replaced(replaced(k_panel, "4 K1:14 X1:2.int\n", ""), "part X1:2 terminal\n", ""));
  EXPECT_EQ(standing(),
            (Words{"stale: a point of it, or what was lifted or operated for it, is gone in revision "
                   "2 of the netlist"}));
}

TEST_F(CarryOver, AReadingAtAPointThatNoRevisionHasStaysUnknown) {
  read("K7:1 X1:2.int beep");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing(), (Words{"unknown"}));
}

TEST_F(CarryOver, APointThatARevisionAddsProvesNothingByAnOldReading) {
  read("X1:3.int X1:1.int beep");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing(), (Words{"stale: it did not count before revision 2 of the netlist"}));
}

TEST_F(CarryOver, ContradictingReadingsStayUnstableWhereNothingWasTouched) {
  read("K1:14 X1:2.int beep"), read("K1:14 X1:2.int open");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing(), (Words{"unstable", "unstable"}));
}

TEST_F(CarryOver, OfContradictingReadingsNoneCountsWhenARevisionTouchesOne) {
  // The open one rests on the whole net of X1:2.int, the beep on the way alone.
  text_ = k_panel + "6 X1:2.int X1:4.int\n";
  read("K1:14 X1:2.int beep"), read("K1:14 X1:2.int open");
  revise(text_ + "7 X1:4.int X1:5.int\n");
  const Words words = standing();
  EXPECT_EQ(words[0].substr(0, 5), "stale");
  EXPECT_EQ(words[1].substr(0, 5), "stale");
}

TEST_F(CarryOver, AnUndoneTemporaryChangeLetsOldReadingsCountAgain) {
  read("K1:14 X1:2.int beep - 2026-03-02T08:00:00Z");
  event(EventKind::temporary_made, "X1:2.int", "2026-03-02T09:00:00Z");
  revise(k_panel + "5 X1:1.int X1:3.int\n");
  EXPECT_EQ(standing(), (Words{"stale"}));
  event(EventKind::temporary_undone, "X1:2.int", "2026-03-02T10:00:00Z", 2);
  EXPECT_EQ(standing(), (Words{"agrees"}));
}

TEST_F(CarryOver, AnUndoneTemporaryChangeDoesNotBringBackWhatARevisionTouched) {
  read("K1:14 X1:2.int beep - 2026-03-02T08:00:00Z");
  event(EventKind::temporary_made, "X1:2.int", "2026-03-02T09:00:00Z");
  revise(k_panel + "5 K1:14 X1:3.int\n");
  event(EventKind::temporary_undone, "X1:2.int", "2026-03-02T10:00:00Z", 2);
  EXPECT_EQ(standing(), (Words{"stale: wire 5 was added at K1:14 by revision 2 of the netlist"}));
}

TEST_F(CarryOver, AReadingThatARepairMadeStaleDoesNotCountAgainByAnAsBuiltDrawing) {
  read("G1:+ X1:1.int beep - 2026-03-02T08:00:00Z"), read("G1:+ X1:1.int beep - 2026-03-02T10:00:00Z");
  event(EventKind::repair, "X1:1.int", "2026-03-02T09:00:00Z");
  EXPECT_EQ(standing(), (Words{"stale", "agrees"}));
  revise(k_panel + "5 G1:+ X1:1.int\n", true);
  EXPECT_EQ(standing(), (Words{"stale: it did not count before revision 2 of the netlist", "agrees"}));
}

const std::string k_channels =
    "1 A1:0 X1:1.int\n2 A1:1 X1:2.int\n3 X1:3.int X1:4.int\npart X1:1 terminal\npart X1:2 terminal\n"
    "channel A1:0 DI X1:1.ext\nchannel A1:1 DI X1:2.ext - - LEVEL\n";

/// Why results of the first of some revisions no longer count, one for each of the channels named.
std::vector<std::string> why_outdated(const std::vector<std::string>& texts,
                                      const std::vector<std::string>& channels, bool is_as_built = false) {
  std::vector<EarlierNetlist> earlier;
  for (std::uint32_t i = 0; i + 1 < texts.size(); ++i)
    earlier.push_back({i + 1, testing::netlist(texts[i]), is_as_built});
  const Netlist net = testing::netlist(texts.back());
  IoResults results;
  for (const std::string& channel : channels) {
    IoResult result;
    result.channel = channel, result.netlist = "1 000000000000";
    results.rows.push_back(result);
  }
  carry_over(earlier, ConductionGraph(net), {}, results);
  std::vector<std::string> whys;
  for (const IoResult& result : results.rows)
    whys.push_back(result.outdated.value_or("none") + "@" + result.channel);
  return whys;
}

TEST(CarryOverResults, AResultStandsWhereNeitherRowNorPathWasTouched) {
  EXPECT_EQ(why_outdated({k_channels, k_channels + "4 X1:2.int X1:5.int\n"}, {"A1:0", "A1:1", "LEVEL"}),
            (Words{"@A1:0", "wire 4 was added at X1:2.int by revision 2 of the netlist@A1:1",
                   "wire 4 was added at X1:2.int by revision 2 of the netlist@A1:1"}));
}

TEST(CarryOverResults, AnotherFieldTerminalIsAnotherChannel) {
  EXPECT_EQ(why_outdated({k_channels, replaced(k_channels, "DI X1:2.ext", "DI X1:2.int")}, {"A1:0", "A1:1"}),
            (Words{"@A1:0", "the field of its channel was changed by revision 2 of the netlist@A1:1"}));
}

TEST(CarryOverResults, AResultGoesByTheNewNameOfItsModule) {
  EXPECT_EQ(why_outdated({k_channels, replaced(k_channels, "A1:", "A7:")}, {"A1:0", "A1:1"}),
            (Words{"@A7:0", "@A7:1"}));
}

const std::string k_tagged = replaced(k_channels, "DI X1:1.ext", "DI X1:1.ext - - FLOW");

TEST(CarryOverResults, AResultByTagStaysWithItsChannelWhenTagsAreExchanged) {
  const std::string exchanged =
      replaced(replaced(replaced(k_tagged, "FLOW", "OLD"), "LEVEL", "FLOW"), "OLD", "LEVEL");
  const std::string why = "the tag of its channel was changed by revision 2 of the netlist@";
  EXPECT_EQ(why_outdated({k_tagged, exchanged}, {"FLOW", "LEVEL", "A1:0"}),
            (Words{why + "A1:0", why + "A1:1", why + "A1:0"}));
  EXPECT_EQ(why_outdated({k_tagged, exchanged}, {"FLOW", "LEVEL"}, true), (Words{"@A1:0", "@A1:1"}));
}

TEST(CarryOverResults, AChannelThatMovedIsNotGone) {
  const std::string moved = replaced(k_tagged, "A1:1", "A1:5"),
                    gone = k_tagged.substr(0, k_tagged.rfind("channel"));
  for (const bool is_as_built : {false, true}) {
    EXPECT_EQ(why_outdated({k_tagged, moved}, {"A1:0", "LEVEL", "A1:1"}, is_as_built),
              (Words{"@A1:0", "its channel was moved to A1:5 by revision 2 of the netlist@A1:1",
                     "its channel was moved to A1:5 by revision 2 of the netlist@A1:1"}));
    EXPECT_EQ(why_outdated({k_tagged, gone}, {"LEVEL"}, is_as_built),
              (Words{"its channel is gone by revision 2 of the netlist@A1:1"}));
  }
}

TEST(CarryOverResults, WhatOneStepTouchedStaysOutdatedAndAsBuiltTouchesNothing) {
  const std::string touched = k_channels + "4 X1:2.int X1:5.int\n";
  EXPECT_EQ(why_outdated({k_channels, touched, k_channels}, {"A1:1"}),
            (Words{"wire 4 was added at X1:2.int by revision 2 of the netlist@A1:1"}));
  EXPECT_EQ(why_outdated({k_channels, touched}, {"A1:1"}, true), (Words{"@A1:1"}));
  EXPECT_EQ(why_outdated({k_channels}, {"A1:1"}), (Words{"none@A1:1"}));
}

}  // namespace
}  // namespace ringtrue
