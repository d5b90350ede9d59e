// Lists of wires as people have them.
#include <gtest/gtest.h>

#include <string>

#include "load/load_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

TEST(LoadWireList, FerruleIsTheWireAndNamesWithoutPinsAreNoted) {
  const ScopedTempFolder folder;
  const auto of = [&](std::string_view text) { return load_netlist(folder.write("wires.csv", text)); };
  constexpr std::string_view k_note = "no point is written as DEVICE:PIN";
  const auto dotted = of("Ferrule No.;From;To\n7;X1.1;K1.A1\n");
  ASSERT_TRUE(dotted) << errors_of(dotted, folder);
  EXPECT_EQ(dotted->conductor_text.get(ConductorText::wire, 0), "7");
  EXPECT_NE(notes_of(dotted->notes, folder).find(k_note), std::string::npos);
  const auto with_pins = of("Ferrule No.;From;To\n7;X1:1;K1:A1\n");
  ASSERT_TRUE(with_pins) << errors_of(with_pins, folder);
  EXPECT_EQ(notes_of(with_pins->notes, folder).find(k_note), std::string::npos);
}

TEST(LoadWireList, DevicesThatNoPartDescribesAreNamed) {
  const ScopedTempFolder folder;
  constexpr std::string_view k_rows = "from,to\nG1:+,F1:1\nF1:2,X1:1\nX1:2,K1:A1\n";
  const auto alone = load_netlist(folder.write("wires.csv", k_rows));
  ASSERT_TRUE(alone) << errors_of(alone, folder);
  // K1 and G1 have one pin each, X1 is a strip.
  EXPECT_NE(notes_of(alone->notes, folder).find("what joins the pins of F1 isn't known"), std::string::npos);
  folder.write("GD1/conductors.csv", k_rows);
  folder.write("GD1/parts.csv", "part,kind,a,b\nF1,fuse,1,2\n");
  const auto with_parts = load_netlist(folder.path() / "GD1");
  ASSERT_TRUE(with_parts) << errors_of(with_parts, folder);
  EXPECT_EQ(notes_of(with_parts->notes, folder).find("what joins"), std::string::npos);
}

TEST(LoadWireList, UnitsMayStandBesideTheNumbers) {
  const ScopedTempFolder folder;
  const auto sizes = [&](std::string_view cells) {
    const auto list = load_netlist(
        folder.write("wires.csv", std::string("from;to;mm2;awg;length_m\nK1:A1;X1:5;") + std::string(cells)));
    if (!list) return errors_of(list, folder);
    const auto& text = list->conductor_text;
    return std::string(text.get(ConductorText::mm2, 0)) + "|" + std::string(text.get(ConductorText::awg, 0)) +
           "|" + std::string(text.get(ConductorText::length_m, 0));
  };
  EXPECT_EQ(sizes("0.75mm2;;2m"), "0.75||2");
  EXPECT_EQ(sizes("1,5 mm\xC2\xB2;;0,8 m"), "1,5||0,8");
  EXPECT_EQ(sizes("2.5;;"), "2.5||");
  EXPECT_EQ(sizes(";18 AWG;"), "|18|");
  EXPECT_EQ(sizes(";AWG 1/0;"), "|1/0|");
  EXPECT_EQ(sizes("AWG 18;;"), "|18|");  // one column for either
  EXPECT_EQ(sizes(";;300 mm"),
            "wires.csv:2: length_m: not a number that fits here: found \"300 mm\", expected a number of at "
            "least 0");
  EXPECT_EQ(
      sizes("1.5 kg;;"),
      "wires.csv:2: mm2: not a number that fits here: found \"1.5 kg\", expected a number of at least 0");
  EXPECT_EQ(sizes("mm2;;"),
            "wires.csv:2: mm2: not a number that fits here: found \"mm2\", expected a number of at least 0");
}

TEST(LoadWireList, DeviceAndPinMayStandInTwoColumns) {
  const ScopedTempFolder folder;
  const auto of = [&](std::string_view text) { return load_netlist(folder.write("wires.csv", text)); };
  const auto ends = [&](std::string_view text) {
    const auto list = of(text);
    if (!list) return errors_of(list, folder);
    std::string all;
    for (const Conductor& one : list->conductors) {
      all += all.empty() ? "" : ", ";
      all += list->points.name(one.from);
      if (!one.is_spare()) all += " " + list->points.name(one.to);
    }
    return all;
  };
  EXPECT_EQ(ends("from,from_pin,to,to_pin\nK1,A1,X1,5.int\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Von BMK;Von Anschluss;Nach BMK;Nach Klemme\nK1;A1;X1;5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Anschluss 1;Ger\xC3\xA4t von;BMK 1;BMK 2;Anschluss 2\nA1;;K1;K2;A2\n"), "K1:A1 K2:A2");
  // A bare pin is that of the column before it.
  EXPECT_EQ(ends("Wire;From;Pin;To;Pin\n1;K1;A1;X1;5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("BMK von;Klemme von;BMK nach;Klemme nach\nK1;A1;X1;5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Device 1;Pin 1;Device 2;Pin 2\nK1;A1;X1;5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Pin;From;To\n7;K1:A1;X1:5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Anschluss 1;Anschluss 2\nK1:A1;X1:5\n"), "K1:A1 X1:5.int");
  EXPECT_EQ(ends("Start;End\nK1:A1;X1:5\n"), "K1:A1 X1:5.int");
  // A terminal without a device beside it is the whole point.
  EXPECT_EQ(ends("From Terminal;To Terminal\nX1:1;X1:2\n"), "X1:1.int X1:2.int");
  // One of the ends may be whole; what is there already isn't joined again.
  EXPECT_EQ(ends("From;To Device;To Pin\nG1:-;G2;-\n"), "G1:- G2:-");
  EXPECT_EQ(ends("From;From Pin;To\nX1:1;1;K1:A1\nX1;2;K1:A2\n"), "X1:1.int K1:A1, X1:2.int K1:A2");
  EXPECT_EQ(ends("From;From Pin;To\nX1:1.int;1;K1:A1\n"), "X1:1.int K1:A1");
  EXPECT_EQ(ends("from,from_pin,to,to_pin,kind\nX1,1,-,-,core\n"), "X1:1.ext");
  EXPECT_EQ(
      ends("From;To;To Pin\nX1:1;K1:A1;5\n"),
      "wires.csv:2: to_pin: the end says another pin itself: found \"5 beside K1:A1\", expected the pin in "
      "one of the two columns, or the same in both");
  EXPECT_NE(ends("From;To Device;To Pin\nX1:1;;5\n").find("wires.csv:2"), std::string::npos);
}

TEST(LoadWireList, ReadingsAreNotTakenForWires) {
  const ScopedTempFolder folder;
  const auto told = [&](std::string_view text) {
    const auto list = load_netlist(folder.write("list.csv", text));
    return list ? "wires: " + std::to_string(list->conductors.size()) : errors_of(list, folder);
  };
  const std::string behind =
      ", expected the netlist here and the readings behind it: compare NETLIST READINGS";
  EXPECT_EQ(told("from,to,value\nK1:A1,X1:5,beep\n"),
            "list.csv:1: by this column it is a list of readings, not of wires: found \"value\"" + behind);
  EXPECT_EQ(told("Buzz-out\nVon;Nach;Messwert;Bemerkung\nK1:A1;X1:5;o\n"),
            "list.csv:2: by this column it is a list of readings, not of wires: found \"Messwert\"" + behind);
  EXPECT_EQ(told("Device 1;Pin 1;Device 2;Pin 2;Reading\nK1;A1;X1;5;o\n"),
            "list.csv:1: by this column it is a list of readings, not of wires: found \"Reading\"" + behind);
  // What only wires have says that they are meant, whatever else stands there.
  EXPECT_EQ(told("wire,from,to,value\n5,K1:A1,X1:5,beep\n"), "wires: 1");
  EXPECT_EQ(told("from,to,colour,result\nK1:A1,X1:5,BU,\n"), "wires: 1");
  EXPECT_EQ(told("from,to,note\nK1:A1,X1:5,value\n"), "wires: 1");
}

}  // namespace
}  // namespace ringtrue
