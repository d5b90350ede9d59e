#include "ringtrue/report/panel_words.hpp"

#include <gtest/gtest.h>

#include "report_support.hpp"
#include "ringtrue/compare/compare.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing_support::SmallPanel;
constexpr Detail k_short = Detail::short_lists, k_all = Detail::everything;

TEST(ConditionWords, ObjectsInOneStateStandTogether) {
  EXPECT_EQ(condition_words("", k_short), "");
  EXPECT_EQ(condition_words("S1=operated", k_short), "S1 operated");
  EXPECT_EQ(condition_words("K1=unplugged; S1=operated;K2=unplugged", k_short),
            "K1, K2 unplugged; S1 operated");
  EXPECT_EQ(condition_words("S2=position 3", k_short), "S2 position 3");
  EXPECT_EQ(condition_words("12@X1:5.int=lifted", k_short), "12@X1:5.int lifted");
}

TEST(ConditionWords, ManyAreCountedUnlessAllIsAsked) {
  const std::string five = "A0=unplugged; A1=unplugged; A2=unplugged; A3=unplugged; A4=unplugged";
  EXPECT_EQ(condition_words(five, k_short), "A0, A1, A2, A3, A4 unplugged")
      << "one more is named, not counted";
  EXPECT_EQ(condition_words(five + "; A5=unplugged", k_short), "A0, A1, A2, A3 and 2 more unplugged");
  EXPECT_EQ(condition_words(five + "; A5=unplugged", k_all), "A0, A1, A2, A3, A4, A5 unplugged");
}

TEST(ConditionWords, OddTextsDoNoHarm) {
  EXPECT_EQ(condition_words(" ; ;; ", k_short), "");
  EXPECT_EQ(condition_words("S1", k_short), "");
  EXPECT_EQ(condition_words("a=b=out", k_short), "a=b out");
  EXPECT_EQ(condition_words("=out", k_short), " out");
  EXPECT_EQ(to_be_done(";=;", k_short).empty(), false);
}

TEST(ToBeDone, SaysWhatTheHandDoes) {
  EXPECT_EQ(to_be_done("", k_short), "");
  EXPECT_EQ(to_be_done("12@X1:5.int=lifted; K1=unplugged", k_short),
            "lift conductor 12 at X1:5.int; unplug K1");
  EXPECT_EQ(to_be_done("S1=operated", k_short), "hold S1 operated");
  EXPECT_EQ(to_be_done("F1=out; F2=out; Q1=off; Q2=on; X1:3=open", k_short),
            "take out F1, F2; switch Q1 off; switch Q2 on; open the link of X1:3");
  EXPECT_EQ(to_be_done("S3=position 2", k_short), "bring S3 to position 2");
}

TEST(ToBeDone, EveryLiftIsNamed) {
  std::string condition;
  for (int i = 1; i <= 6; ++i)
    condition +=
        std::string(i == 1 ? "" : "; ") + std::to_string(i) + "@X1:" + std::to_string(i) + ".int=lifted";
  const std::string all = to_be_done(condition, k_all);
  for (int i = 1; i <= 6; ++i)
    EXPECT_NE(all.find(std::to_string(i) + " at X1:" + std::to_string(i) + ".int"), std::string::npos) << all;
  EXPECT_EQ(to_be_done(condition, k_short),
            "lift conductor 1 at X1:1.int, 2 at X1:2.int, 3 at X1:3.int, 4 at X1:4.int and 2 more");
}

TEST(PointPlace, WhereItIsAndWhatLandsThere) {
  SmallPanel panel;
  panel.wire("214", "X1:5.int", "S1:13", "3.2").wire("215", "X1:5.int", "K1:A1", "4.1");
  panel.part("S1", "contact-no", "13", "14", "3.2", "door");
  const ConductionGraph& graph = panel.graph();
  EXPECT_EQ(point_place(panel.point("X1:5.int"), graph, k_short), "wires 214, 215, sheets 3.2, 4.1");
  EXPECT_EQ(point_place(panel.point("S1:13"), graph, k_short), "door, wire 214, sheet 3.2");
  EXPECT_EQ(point_place(panel.point("K1:A1"), graph, k_short), "wire 215, sheet 4.1");
  EXPECT_EQ(point_place(panel.point("X1:5.ext"), graph, k_short), "");
  EXPECT_EQ(point_place(PointId{graph.point_count()}, graph, k_short), "") << "a loose end";
  EXPECT_EQ(point_place(PointId::none, graph, k_short), "");
}

TEST(PointPlace, ManyAreCountedUnlessAllIsAsked) {
  static const char* numbers[] = {"1", "2", "3", "4", "5", "6", "7"};
  static const char* relays[] = {"K1:A1", "K2:A1", "K3:A1", "K4:A1", "K5:A1", "K6:A1", "K7:A1"};
  SmallPanel panel;
  for (int i = 0; i < 7; ++i) panel.wire(numbers[i], "X1:5.int", relays[i], numbers[i]);
  const PointId hub = panel.point("X1:5.int");
  EXPECT_EQ(point_place(hub, panel.graph(), k_all), "wires 1, 2, 3, 4, 5, 6, 7, sheets 1, 2, 3, 4, 5, 6, 7");
  const std::string some = point_place(hub, panel.graph(), k_short);
  EXPECT_EQ(some.find("wires 1, 2, 3, 4 and 3 more"), 0u) << some;
}

TEST(ListOf, AlikeOnesTogether) {
  SmallPanel panel;
  panel.wire("501", "X1:1.int", "K1:A1").wire("502", "X1:2.int", "K2:A1").wire("503", "X1:3.int", "K3:A1");
  panel.part("X2:2", "fuse", "int", "ext");
  panel.wire("504", "X2:2.int", "K3:A2");
  std::vector<ElementId> all;
  for (const char* name : {"501", "X2:2", "502", "503", "504"}) all.push_back(panel.element(name));
  EXPECT_EQ(list_of({}, panel.graph(), 3), "");
  EXPECT_EQ(list_of(std::span(all).first(1), panel.graph(), 3), "wire 501");
  EXPECT_EQ(list_of(std::span(all).first(3), panel.graph(), 3), "wires 501, 502; fuse X2:2");
  EXPECT_EQ(list_of(all, panel.graph(), 3), "wires 501, 502; fuse X2:2 and 2 more");
  EXPECT_EQ(list_of(all, panel.graph(), 4), "wires 501, 502, 503, 504; fuse X2:2")
      << "one more than the limit is named rather than counted";
}

TEST(ReadingLine, SaysWhatWasReadAndWhatIsDrawn) {
  const Netlist net = testing::netlist(
      "1 X1:1.int S1:13\n2 S1:14 A1:0.1\n3 K1:A1 A1:1.0\n4 K1:A2 X1:1.int\npart S1 contact-no 13 14\n"
      "part K1 coil A1 A2 470\n");
  const ConductionGraph graph(net);
  const Readings taken = testing::readings(
      "S1:13 A1:0.1 open S1=operated\nX1:1 S1:13 open\nS1:13 S1:14 beep\nK1:A1 K1:A2 9.5k\nP9:1 - "
      "lit\nX1:1.int - lit\n");
  const Comparison comparison = compare(graph, taken, {}).value();
  const auto line = [&](std::uint32_t i) { return reading_line(graph, taken, comparison, ReadingId{i}); };
  EXPECT_EQ(line(0), "R1: S1:13 to A1:0.1, S1 operated: read open, drawn a beep");
  EXPECT_EQ(line(1), "R2: X1:1 to S1:13: read open, drawn a beep");
  EXPECT_EQ(line(2), "R3: S1:13 to S1:14: read beep, drawn open");
  EXPECT_EQ(line(3), "R4: K1:A1 to K1:A2: read 9500 Ω, drawn 423 to 517 Ω");
  EXPECT_EQ(read_and_drawn(graph, taken, comparison, ReadingId{0}), "read open, drawn a beep");
}

TEST(RangeText, Ranges) {
  EXPECT_EQ(range_text({Ohms{0.1}, Ohms{3}}), "0.1 to 3 Ω");
  EXPECT_EQ(range_text({Ohms{0}, Ohms{3}}), "up to 3 Ω");
  EXPECT_EQ(range_text({Ohms{50}, k_infinite_ohms}), "50 Ω or more");
  EXPECT_EQ(range_text({Ohms{0}, k_infinite_ohms}), "any resistance");
  EXPECT_EQ(range_text({k_infinite_ohms, k_infinite_ohms}), "open");
}

}  // namespace
}  // namespace ringtrue
