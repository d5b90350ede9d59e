#include "report/value_words.hpp"

#include <gtest/gtest.h>

#include "tests/support/netlist_text.hpp"

namespace ringtrue::report {
namespace {

TEST(ValueWords, OhmsTakeTheUnitThatReadsBest) {
  EXPECT_EQ(ohms_text(Ohms{0.4}), "0.4 Ω");
  EXPECT_EQ(ohms_text(Ohms{470}), "470 Ω");
  EXPECT_EQ(ohms_text(Ohms{1500}), "1.5 kΩ");
  EXPECT_EQ(ohms_text(Ohms{999.7}), "1 kΩ");
  EXPECT_EQ(ohms_text(Ohms{2e6}), "2 MΩ");
  EXPECT_EQ(ohms_text(Ohms{1.1e9}), "1.1 GΩ");
  EXPECT_EQ(ohms_text(Ohms{1e13}), "over 999 GΩ");
  EXPECT_EQ(ohms_text(Ohms{2e-6}), "under 0.0001 Ω");
}

TEST(ValueWords, ARangeIsSaidInTheFewestWords) {
  EXPECT_EQ(range_text({Ohms{0}, Ohms{0.2}}), "up to 0.2 Ω");
  EXPECT_EQ(range_text({Ohms{104}, Ohms{127}}), "104 to 127 Ω");
  EXPECT_EQ(range_text({Ohms{900}, Ohms{1100}}), "900 Ω to 1.1 kΩ");
  EXPECT_EQ(range_text({Ohms{50}, k_infinite_ohms}), "50 Ω or more");
  EXPECT_EQ(range_text({Ohms{0}, k_infinite_ohms}), "any resistance");
  EXPECT_EQ(range_text({Ohms{47}, Ohms{47.001}}), "47 Ω");
  EXPECT_EQ(range_text(k_open_interval), "open");
}

TEST(ValueWords, AnElementSaysWhereItsValueComesFrom) {
  const Netlist net = testing::netlist(
      "part K1 coil A1 A2 115\npart K2 coil A1 A2\npart P1 lamp x1 x2 576\npart V1 diode A K\n"
      "part F1 fuse 1 2\n1 K1:A1 K2:A1\n");
  const ConductionGraph graph(net);
  const auto words = [&](const std::string& name) {
    for (std::uint32_t e = 0; e < graph.element_count(); ++e)
      if (graph.element_name(ElementId{e}) == name)
        return value_words(ElementId{e}, graph.interval(ElementId{e}), graph);
    return "no element " + name;
  };
  EXPECT_EQ(words("K1:A1-A2"), "115 Ω ± 10 %: 104 to 127 Ω");
  EXPECT_EQ(words("K2:A1-A2"), "ohms not drawn: 1 Ω or more");
  EXPECT_EQ(words("P1:x1-x2"), "576 Ω hot, less when cold: 38.4 to 576 Ω");
  EXPECT_EQ(words("V1:A-K"), "conducts from anode to cathode only");
  EXPECT_EQ(words("F1:1-2"), "up to 0.5 Ω");
  EXPECT_EQ(words("1"), "up to 0.2 Ω");
}

}  // namespace
}  // namespace ringtrue::report
