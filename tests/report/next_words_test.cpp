#include "report/next_words.hpp"

#include <gtest/gtest.h>

#include "tests/report/report_support.hpp"

namespace ringtrue::report {
namespace {

using testing_support::fault_at;
using testing_support::miswire;
using testing_support::SmallPanel;

TEST(NextWords, WhatIsToBeDoneIsToldByKind) {
  EXPECT_EQ(to_be_done("", Detail::short_lists), "");
  EXPECT_EQ(to_be_done("12@X1:5.int=lifted; K1=unplugged;A0=unplugged", Detail::short_lists),
            "lift conductor 12 at X1:5.int; unplug K1, A0");
  EXPECT_EQ(to_be_done("S1=position 2;F3=out;X2:4=open", Detail::short_lists),
            "bring S1 to position 2; take out F3; open the link of X2:4");
}

TEST(NextWords, LongListsAreCut) {
  const std::string many = "A0=unplugged;A1=unplugged;A2=unplugged;A3=unplugged;A4=unplugged;A5=unplugged";
  EXPECT_EQ(to_be_done(many, Detail::short_lists), "unplug A0, A1, A2, A3 and 2 more");
  EXPECT_EQ(to_be_done(many, Detail::everything), "unplug A0, A1, A2, A3, A4, A5");
}

TEST(NextWords, WhatIsRatherWrongThanRightIsNotSaidToBeDone) {
  Diagnosis diagnosis;
  diagnosis.probability = 0.5;
  EXPECT_EQ(remedy_label(diagnosis), "Do");
  diagnosis.probability = 0.49;
  EXPECT_EQ(remedy_label(diagnosis), "If so");
}

TEST(NextWords, FaultsInShort) {
  SmallPanel panel;
  panel.wire("214", "K3:A1", "X1:5.int").wire("215", "K4:A1", "X1:6.int").part("K3", "coil", "A1", "A2");
  const auto words = [&](const Fault& fault) { return in_short(fault, panel.graph(), {}); };
  EXPECT_EQ(words(fault_at(FaultKind::open, panel.element("214"))), "wire 214 open");
  EXPECT_EQ(words(miswire(panel.element("214"), End::b, panel.point("X1:6.int"))), "wire 214 on X1:6.int");
  EXPECT_EQ(
      words(testing_support::joined(FaultKind::short_circuit, panel.point("K3:A1"), panel.point("K4:A1"))),
      "K3:A1 and K4:A1 joined");
  EXPECT_EQ(words(fault_at(FaultKind::wrong_value, panel.element("214"))), "a bad joint of wire 214");
  EXPECT_EQ(words(fault_at(FaultKind::wrong_value, panel.element("K3:A1-A2"))),
            "another value of coil K3:A1-A2");
}

}  // namespace
}  // namespace ringtrue::report
