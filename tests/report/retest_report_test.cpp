#include "ringtrue/report/retest_report.hpp"

#include <gtest/gtest.h>

#include "tests/report/report_support.hpp"
#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using testing::netlist;

using testing_support::has;

/// Two revisions side by side, without readings.
std::string changes(const std::string& before, const std::string& after,
                    Detail detail = Detail::short_lists) {
  const Netlist old_net = netlist(before), new_net = netlist(after);
  const ConductionGraph old_graph(old_net), new_graph(new_net);
  const Difference made = difference(old_graph, new_graph);
  return retest_text({old_graph, new_graph, made, {}, nullptr, nullptr}, detail);
}

TEST(RetestReport, SizeThatWasLeftOpenIsFilledIn) {
  const std::string text =
      changes("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n", "1 K1:A1 X1:1.int wire - 2 0.75\n2 K2:A1 X1:2.int\n");
  EXPECT_TRUE(has(text, "  1 conductor the same, 1 completed\n")) << text;
  EXPECT_TRUE(has(text, "wire 1, K1:A1 to X1:1.int: colour, size or length filled in\n")) << text;
}

TEST(RetestReport, ChannelsAndPotentialsSayWhatTheyWere) {
  const std::string wires = "1 A1:0 X1:1.int\n2 A1:1 X1:2.int\n3 G1:1 X1:3.int\n4 G1:2 X1:4.int\n";
  const std::string text = changes(
      wires +
          "channel A1:0 DI X1:1.ext X1:3.ext A1:M FULL\nchannel A1:1 DI X1:2.ext\npotential +24V dc+ G1:1 "
          "24\n",
      wires +
          "channel A1:0 DI X1:1.ext X1:4.ext A1:M EMPTY\npotential +24V dc+ G1:1\npotential 0V dc- G1:2\n");
  EXPECT_TRUE(
      has(text, "\nChannels and potentials; what was tried of these channels is to be tried again:\n"))
      << text;
  EXPECT_TRUE(has(text, "changed    channel A1:0: tag EMPTY, was FULL; return X1:4.ext, was X1:3.ext\n"))
      << text;
  EXPECT_TRUE(has(text, "gone       channel A1:1\n")) << text;
  EXPECT_TRUE(has(text, "changed    potential +24V: volts not stated, was 24\n")) << text;
  EXPECT_TRUE(has(text, "new        potential 0V\n")) << text;
}

TEST(RetestReport, PotentialsAloneSendNobodyBackToAChannel) {
  const std::string wires = "1 G1:1 X1:1.int\n";
  const std::string text =
      changes(wires + "potential +24V dc+ G1:1 24\n", wires + "potential +24V dc+ G1:1 48\n");
  EXPECT_TRUE(has(text, "\nPotentials:\n  changed    potential +24V: volts 48, was 24\n")) << text;
  EXPECT_FALSE(has(text, "tried again")) << text;
}

TEST(RetestReport, RenamedPartsAreLabelsToBeChanged) {
  const std::string text = changes("1 K1:A1 X1:1.int\n2 K1:A2 X1:2.int\npart K1 coil A1 A2 400\n",
                                   "1 K7:A1 X1:1.int\n2 K7:A2 X1:2.int\npart K7 coil A1 A2 400\n");
  EXPECT_TRUE(
      has(text,
          "\nRenamed parts, labels to be changed; if one is exchanged or its conductors are lifted for it, "
          "read\n  again:\n  K1 becomes K7\n"))
      << text;
  EXPECT_FALSE(has(text, "What the revision changes")) << text;
}

TEST(RetestReport, LongListsOfRenamedPartsAreCut) {
  std::string before, after;
  for (int i = 1; i <= 40; ++i) {
    const std::string n = std::to_string(i);
    before += n + " K" + n + ":A1 X1:" + n + ".int\n" + "part K" + n + " coil A1 A2 400\n";
    after += n + " Q" + n + ":A1 X1:" + n + ".int\n" + "part Q" + n + " coil A1 A2 400\n";
  }
  const std::string few = changes(before, after), all = changes(before, after, Detail::everything);
  const auto told = [](const std::string& text) {
    std::size_t count = 0;
    for (std::size_t at = text.find(" becomes "); at != text.npos; at = text.find(" becomes ", at + 1))
      ++count;
    return count;
  };
  EXPECT_EQ(told(all), 40u) << all;
  EXPECT_LT(told(few), 40u);
  EXPECT_TRUE(has(few, "  and " + std::to_string(40 - told(few)) + " more (--all shows them)\n")) << few;
}

}  // namespace
}  // namespace ringtrue
