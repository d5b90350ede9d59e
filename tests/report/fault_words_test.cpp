#include "report/report_support.hpp"
#include "ringtrue/report/words.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

SmallPanel contactor_panel() {
  SmallPanel panel;
  panel.wire("214", "K3:A1", "X1:5.int", "12.3")
      .wire("215", "K4:A1", "X1:6.int", "12.4")
      .conductor("bridge", "", "X1:7.int", "X1:8.int", "12.5")
      .conductor("core", "", "X1:5.ext", "X1:9.ext")
      .part("X1:5", "terminal", "int", "ext", "12.3")
      .part("X1:6", "terminal", "int", "ext", "12.4")
      .part("X1:7", "terminal", "int", "ext", "12.5")
      .part("X1:8", "terminal", "int", "ext", "12.5")
      .part("X1:9", "terminal", "int", "ext")
      .part("F3", "fuse", "1", "2", "2.1")
      .part("K1", "contact-no", "13", "14", "4.1")
      .part("K2", "contact-no", "11", "14", "4.2")
      .part("K2", "contact-nc", "11", "12", "4.2");
  return panel;
}

TEST(FaultWords, WireThatDoesNotConductAsksForBothClampsFirst) {
  SmallPanel panel;
  panel.wire("117", "K3:A1", "X1:5.int", "12.3");
  const FaultWords words = fault_words(fault_at(FaultKind::open, panel.element("117")), panel.graph());
  EXPECT_EQ(
      words.text,
      "Wire 117 does not conduct from K3:A1 to X1:5.int (sheet 12.3): missing, broken, or loose at a clamp.");
  EXPECT_EQ(words.action,
            "Check both clamps first, K3:A1 and X1:5.int: conductor in, tight, no insulation under the "
            "clamp. If both are "
            "good, follow wire 117 and replace it. Then read K3:A1 to X1:5.int again.");
  EXPECT_EQ(words.drawing, "Row conductors.csv:2 (wire 117) would have to go.");
}

TEST(FaultWords, OpenFuseMayBeBlownOrMissing) {
  SmallPanel panel = contactor_panel();
  const FaultWords words = fault_words(fault_at(FaultKind::open, panel.element("F3:1-2")), panel.graph());
  EXPECT_EQ(words.text,
            "Fuse F3:1-2 does not conduct from F3:1 to F3:2 (sheet 2.1): blown, missing or not seated.");
  EXPECT_EQ(words.drawing, "Row parts.csv:7 (fuse F3:1-2) would have to go.");
}

TEST(FaultWords, OpenPartIsLookedAtTheWayItsKindFails) {
  SmallPanel panel;
  panel.part("F4", "breaker", "1", "2", "2.2")
      .part("Q1", "isolator", "1", "2")
      .part("X2:1", "disconnect", "int", "ext")
      .part("X7:3", "plug", "int", "ext")
      .part("K5", "coil", "A1", "A2")
      .part("K5", "contact-no", "13", "14");
  const auto open = [&](const char* element) {
    return fault_words(fault_at(FaultKind::open, panel.element(element)), panel.graph());
  };
  EXPECT_EQ(
      open("F4:1-2").text,
      "Breaker F4:1-2 does not conduct from F4:1 to F4:2 (sheet 2.2): switched off, tripped or faulty.");
  EXPECT_EQ(open("F4:1-2").action,
            "Check that breaker F4:1-2 is on, then both its clamps; replace it if it stays open. Then read "
            "F4:1 to F4:2 again.");
  EXPECT_EQ(open("Q1:1-2").text,
            "Isolator Q1:1-2 does not conduct from Q1:1 to Q1:2: switched off, tripped or faulty.");
  EXPECT_EQ(open("X2:1").text,
            "Disconnect terminal X2:1 does not conduct from X2:1.int to X2:1.ext: its link is open, missing "
            "or loose.");
  EXPECT_EQ(open("X2:1").action,
            "Close the link of disconnect terminal X2:1 and check both its clamps. Then read X2:1.int to "
            "X2:1.ext again.");
  EXPECT_EQ(open("X7:3").text,
            "Plug contact X7:3 does not conduct from X7:3.int to X7:3.ext: not plugged in, a pin pushed "
            "back, or a clamp loose.");
  EXPECT_EQ(open("X7:3").action,
            "Push plug contact X7:3 home, look at its pin, and check both its clamps. Then read X7:3.int to "
            "X7:3.ext again.");
  EXPECT_EQ(open("K5:A1-A2").text,
            "Coil K5:A1-A2 does not conduct from K5:A1 to K5:A2: missing, unplugged or faulty.");
  EXPECT_EQ(open("K5:A1-A2").action,
            "Check the clamps at K5:A1 and K5:A2 first, then coil K5:A1-A2 itself. Then read K5:A1 to K5:A2 "
            "again.");
  EXPECT_EQ(open("K5:13-14").text,
            "Contact K5:13-14 does not conduct from K5:13 to K5:14: the contact does not close, or the part "
            "was not in the state stated.");
}

TEST(FaultWords, OpenTerminalNamesBothSides) {
  SmallPanel panel = contactor_panel();
  const FaultWords words = fault_words(fault_at(FaultKind::open, panel.element("X1:5")), panel.graph());
  EXPECT_EQ(words.text,
            "Terminal X1:5 does not conduct from X1:5.int to X1:5.ext (sheet 12.3): broken, or a conductor "
            "not under its "
            "clamp.");
}

TEST(FaultWords, TerminalOfAWireListAloneHasNoRowToChange) {
  SmallPanel panel;
  panel.wire("1", "X1:1.int", "X1:2.int").wire("2", "X1:2.ext", "X1:3.ext");
  const FaultWords words = fault_words(fault_at(FaultKind::open, panel.element("X1:2")), panel.graph());
  EXPECT_EQ(words.drawing,
            "Terminal X1:2 stands in no row of the drawing; a row for it would have to say that it is open.");
}

TEST(FaultWords, MissingBridge) {
  SmallPanel panel = contactor_panel();
  const FaultWords words =
      fault_words(fault_at(FaultKind::missing_bridge, panel.element("X1:7-X1:8")), panel.graph());
  EXPECT_EQ(words.text,
            "Bridge X1:7-X1:8 is missing or makes no contact, X1:7.int to X1:8.int (sheet 12.5).");
  EXPECT_EQ(words.action, "Fit bridge X1:7-X1:8 or push it home, then read X1:7.int to X1:8.int again.");
  EXPECT_EQ(words.drawing, "Row conductors.csv:4 (bridge X1:7-X1:8) would have to go.");
}

TEST(FaultWords, MiswireNamesTheOtherPointsOfTheNetThatItLandsOn) {
  SmallPanel panel = contactor_panel();
  const Fault fault = miswire(panel.element("214"), End::b, panel.point("X1:6.int"));
  const FaultWords words = fault_words(fault, panel.graph());
  EXPECT_EQ(words.text,
            "Wire 214 from K3:A1 lands on X1:6.int (or on K4:A1 or X1:6.ext, the same net), drawn on "
            "X1:5.int (sheet "
            "12.3).");
  EXPECT_EQ(
      words.action,
      "Move wire 214 from X1:6.int to X1:5.int, then read K3:A1 to X1:5.int and K3:A1 to X1:6.int again.");
  EXPECT_EQ(words.drawing,
            "In row conductors.csv:2 (wire 214), \"to\" would have to be X1:6.int instead of X1:5.int.");
}

TEST(FaultWords, MiswireOntoALoneTerminalHasNoOtherPlace) {
  SmallPanel panel;
  panel.wire("1", "K1:A1", "K2:A1").wire("2", "K3:A1", "K4:A1").part("K5", "coil", "A1", "A2");
  const FaultWords words =
      fault_words(miswire(panel.element("1"), End::a, panel.point("K5:A1")), panel.graph());
  EXPECT_EQ(words.text, "Wire 1 from K2:A1 lands on K5:A1, drawn on K1:A1.");
  EXPECT_EQ(words.drawing,
            "In row conductors.csv:2 (wire 1), \"from\" would have to be K5:A1 instead of K1:A1.");
}

TEST(FaultWords, MiswireOntoALargeNetSaysThatItMayBeElsewhereOnIt) {
  SmallPanel panel;
  panel.wire("1", "K1:A1", "K2:A1");
  for (const char* to : {"K10:A2", "K11:A2", "K12:A2", "K13:A2"}) panel.wire("0V", "G1:-", to);
  const FaultWords words =
      fault_words(miswire(panel.element("1"), End::b, panel.point("K11:A2")), panel.graph());
  EXPECT_EQ(words.text,
            "Wire 1 from K1:A1 lands on K11:A2 (or elsewhere on the net of that point), drawn on K2:A1.");
}

TEST(FaultWords, SwapSaysWhereEachOfTheTwoBelongs) {
  SmallPanel panel = contactor_panel();
  const Fault fault = swap_of(panel.element("214"), End::b, panel.element("215"), End::b);
  const FaultWords words = fault_words(fault, panel.graph());
  EXPECT_EQ(words.text,
            "Wire 214 from K3:A1 and wire 215 from K4:A1 are exchanged: wire 214 lands on X1:6.int, drawn on "
            "X1:5.int; "
            "wire 215 lands on X1:5.int, drawn on X1:6.int (sheets 12.3, 12.4).");
  EXPECT_EQ(words.action,
            "Exchange the two: wire 214 to X1:5.int, wire 215 to X1:6.int. Then read K3:A1 to X1:5.int and "
            "K4:A1 to "
            "X1:6.int again.");
  EXPECT_EQ(
      words.drawing,
      "In row conductors.csv:2 (wire 214), \"to\" would have to be X1:6.int instead of X1:5.int, and in row "
      "conductors.csv:3 (wire 215), \"to\" would have to be X1:5.int instead of X1:6.int.");
}

Fault exchange_of(PointId one, PointId two) {
  Fault fault = joined(FaultKind::shift, one, two);
  fault.places = 0;
  return fault;
}

TEST(FaultWords, ExchangedConnectorsNameBothPartsAndTheirWires) {
  SmallPanel panel;
  panel.wire("301", "X1:1.int", "K3:A1")
      .wire("302", "K3:A2", "X1:2.int")
      .wire("303", "X1:3.int", "K4:A1")
      .wire("304", "K4:A2", "X1:4.int")
      .wire("305", "K5:A1", "X1:5.int");
  const FaultWords words =
      fault_words(exchange_of(panel.point("K3:A1"), panel.point("K4:A1")), panel.graph());
  EXPECT_EQ(words.text,
            "The wires of K3 and of K4 are exchanged, each on the same pin of the other (wires 301, 302, "
            "303, 304): the connector is on the neighbouring part, or the two parts sit in each other's "
            "place.");
  EXPECT_EQ(words.action,
            "Look which of K3 and K4 is which and put them or their connectors right, then read each of the "
            "wires from end to end again.");
  EXPECT_EQ(words.drawing, "All rows with an end on K3 or K4 would have to name the other.");
}

TEST(FaultWords, WireBetweenExchangedConnectorsIsNamedOnce) {
  SmallPanel panel;
  panel.wire("301", "X1:1.int", "K3:A1")
      .wire("303", "X1:3.int", "K4:A1")
      .wire("310", "K3:A2", "K4:A2")
      .wire("311", "K4:A2", "X1:4.int");
  const FaultWords words =
      fault_words(exchange_of(panel.point("K3:A1"), panel.point("K4:A1")), panel.graph());
  EXPECT_NE(words.text.find("(wires 301, 310, 303, 311)"), std::string::npos) << words.text;
}

TEST(FaultWords, ShortMayBeAnywhereOnTheTwoNets) {
  SmallPanel panel = contactor_panel();
  const Fault fault = joined(FaultKind::short_circuit, panel.point("X1:5.int"), panel.point("X1:9.int"));
  const FaultWords words = fault_words(fault, panel.graph());
  EXPECT_EQ(
      words.text,
      "The nets of X1:5.int and X1:9.int are joined, drawn apart: a short or a conductor too many, there or "
      "elsewhere on these two nets.");
  EXPECT_EQ(words.drawing,
            "The drawing lacks a conductor between X1:5.int and X1:9.int, or between their nets.");
}

TEST(FaultWords, ExtraBridgeIsBetweenNeighbours) {
  SmallPanel panel = contactor_panel();
  const Fault fault = joined(FaultKind::extra_bridge, panel.point("X1:5.int"), panel.point("X1:6.int"));
  const FaultWords words = fault_words(fault, panel.graph());
  EXPECT_EQ(words.text,
            "The neighbours X1:5.int and X1:6.int are joined, drawn apart: a bridge too many, one that is "
            "too long, or "
            "another joint between these two nets.");
  EXPECT_EQ(words.action,
            "Look for a bridge between X1:5.int and X1:6.int; take it out or fit a shorter one, then read "
            "X1:5.int to "
            "X1:6.int again.");
}

TEST(FaultWords, WrongContactAlone) {
  SmallPanel panel = contactor_panel();
  const FaultWords words =
      fault_words(fault_at(FaultKind::wrong_contact, panel.element("K1:13-14")), panel.graph());
  EXPECT_EQ(words.text,
            "Contact K1:13-14 behaves as a normally closed contact, drawn normally open (sheet 4.1): NO and "
            "NC exchanged.");
  EXPECT_EQ(words.drawing, "Row parts.csv:8 (contact K1:13-14) would have to be of kind contact-nc.");
}

TEST(FaultWords, WrongContactOfAChangeoverConcernsBothRows) {
  SmallPanel panel = contactor_panel();
  const FaultWords words =
      fault_words(fault_at(FaultKind::wrong_contact, panel.element("K2:11-12")), panel.graph());
  EXPECT_EQ(words.text,
            "Contact K2:11-12 behaves as a normally open contact, drawn normally closed (sheet 4.2): NO and "
            "NC exchanged.");
  EXPECT_EQ(
      words.drawing,
      "Row parts.csv:10 (contact K2:11-12) would have to be of kind contact-no, and row parts.csv:9 (contact "
      "K2:11-14) of kind contact-nc.");
}

TEST(FaultWords, SeveralFaultsAreToldOneAfterTheOther) {
  SmallPanel panel = contactor_panel();
  const std::vector<Fault> faults = {
      fault_at(FaultKind::missing_bridge, panel.element("X1:7-X1:8")),
      joined(FaultKind::extra_bridge, panel.point("X1:5.int"), panel.point("X1:6.int"))};
  const FaultWords words = fault_words(faults, panel.graph());
  EXPECT_EQ(words.text,
            fault_words(faults[0], panel.graph()).text + " " + fault_words(faults[1], panel.graph()).text);
}

// Whatever a report says, it must never be taken for leave to touch a circuit.
TEST(FaultWords, NeverCallsACircuitDeadOrSafe) {
  SmallPanel panel = contactor_panel();
  for (std::uint32_t i = 0; i < panel.graph().element_count(); ++i) {
    const FaultWords words = fault_words(fault_at(FaultKind::open, ElementId{i}), panel.graph());
    for (const std::string& text : {words.text, words.action, words.drawing}) {
      EXPECT_EQ(text.find("dead"), std::string::npos) << text;
      EXPECT_EQ(text.find("safe"), std::string::npos) << text;
    }
  }
}

}  // namespace
}  // namespace ringtrue
