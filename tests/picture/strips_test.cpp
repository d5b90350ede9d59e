#include "ringtrue/picture/strips.hpp"

#include <deque>

#include "picture/natural_order.hpp"
#include "report/report_support.hpp"
#include "ringtrue/picture/readings_map.hpp"
#include "ringtrue/picture/strip_picture.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

TEST(NaturalOrder, CountsAsPeopleDo) {
  using picture::comes_before;
  EXPECT_TRUE(comes_before("X2", "X10"));
  EXPECT_TRUE(comes_before("X1:9", "X1:10"));
  EXPECT_TRUE(comes_before("L1", "L2"));
  EXPECT_TRUE(comes_before("2", "2a"));
  EXPECT_TRUE(comes_before("A1:0.7", "A1:0.10"));
  EXPECT_TRUE(comes_before("01", "1")) << "the same number: as text";
  EXPECT_FALSE(comes_before("1", "1"));
  EXPECT_FALSE(comes_before("X10", "X2"));
  EXPECT_TRUE(comes_before("99999999999999999999998", "99999999999999999999999"))
      << "longer than any integer";
}

/// X1 of the parts and the wires, X10 and X2 of the wires alone.
SmallPanel& add_strips(SmallPanel& panel) {
  return panel.part("X1:4", "terminal", "int", "ext")
      .wire("1", "X1:10.ext", "X2:1.int")
      .wire("2", "X1:4.int", "X10:1.int");
}

std::vector<std::string> places_of(const TerminalStrip& strip, const Netlist& netlist) {
  std::vector<std::string> names;
  for (const PlaceId place : strip.places) names.emplace_back(netlist.points.place_name(place));
  return names;
}

TEST(TerminalStrips, AreThoseOfPartsAndWiresInOrder) {
  SmallPanel panel;
  const Netlist& netlist = add_strips(panel).graph().netlist();
  const std::vector<TerminalStrip> strips = terminal_strips(netlist);
  ASSERT_EQ(strips.size(), 3u);
  EXPECT_EQ(strips[0].name, "X1");
  EXPECT_EQ(strips[1].name, "X2");
  EXPECT_EQ(strips[2].name, "X10");
  EXPECT_EQ(places_of(strips[0], netlist), (std::vector<std::string>{"X1:4", "X1:10"}));
}

TEST(TerminalStrips, AreFoundByNameAndByAPointOnThem) {
  SmallPanel panel;
  const Netlist& netlist = add_strips(panel).graph().netlist();
  for (const std::string_view typed : {"X10", "-X10", "x10", "X10:1", "X10:1.ext", "x10:1.ext"})
    EXPECT_EQ(find_strip(typed, netlist).value().name, "X10") << typed;
  const auto missing = find_strip("X11", netlist);
  ASSERT_FALSE(missing);
  EXPECT_EQ(missing.error().front().code, ErrorCode::unknown_object);
  EXPECT_EQ(missing.error().front().nearest, (std::vector<std::string>{"X1", "X10"}));
}

TEST(TerminalStrips, AreNotGuessedWhereTwoFitInAnotherCase) {
  SmallPanel panel;
  const Netlist& netlist = panel.wire("1", "Xa:1.int", "XA:1.int").graph().netlist();
  EXPECT_EQ(find_strip("Xa", netlist).value().name, "Xa");
  EXPECT_EQ(find_strip("XA:1", netlist).value().name, "XA");
  const auto either = find_strip("xa", netlist);
  ASSERT_FALSE(either);
  EXPECT_EQ(either.error().front().nearest, (std::vector<std::string>{"XA", "Xa"}));
}

/// The panel keeps views, so the names must stay.
class Names {
 public:
  std::string_view operator()(std::string_view before, int number, std::string_view after = "") {
    return kept_.emplace_back(std::string(before) + std::to_string(number) + std::string(after));
  }

 private:
  std::deque<std::string> kept_;
};

std::size_t count(const std::vector<std::string>& pictures, std::string_view part) {
  std::size_t found = 0;
  for (const std::string& svg : pictures)
    for (std::size_t at = svg.find(part); at != std::string::npos; at = svg.find(part, at + 1)) ++found;
  return found;
}

int height_of(const std::string& svg) { return std::stoi(svg.substr(svg.find("height=\"") + 8)); }

TEST(StripPictures, CutIntoSeveralLoseNoLandingAndDrawBridgesOn) {
  SmallPanel panel;
  Names name;
  for (int i = 1; i <= 12; ++i) panel.wire(name("w", i), name("X1:", i, ".int"), name("K1:", i));
  panel.conductor("bridge", "", "X1:1.ext", "X1:12.ext", "");
  const ConductionGraph& graph = panel.graph();
  const TerminalStrip strip = terminal_strips(graph.netlist()).front();
  const auto whole = strip_pictures({graph, strip});
  const auto cut = strip_pictures({graph, strip, nullptr, 1000, 300});
  ASSERT_EQ(whole.size(), 1u);
  ASSERT_GT(cut.size(), 2u);
  for (const std::string& svg : cut) EXPECT_LE(height_of(svg), 300);
  for (const auto* pictures : {&whole, &cut}) {
    EXPECT_EQ(count(*pictures, ">wire w"), 12u);
    EXPECT_EQ(count(*pictures, ">bridge to X1:12.ext</text>"), 1u);
  }
  EXPECT_EQ(count(cut, "<title>X1:1.ext: bridge X1:1-X1:12 to X1:12.ext</title>"), cut.size());
  EXPECT_EQ(strip_pictures({graph, strip, nullptr, 1000, 1}).size(), 12u) << "a landing is never cut";
}

TEST(StripPictures, CutATerminalThatTakesMoreThanAPage) {
  SmallPanel panel;
  Names name;
  for (int i = 1; i <= 60; ++i) panel.wire(name("w", i), "X1:1.int", name("K1:", i));
  for (int i = 2; i <= 40; ++i) panel.conductor("bridge", "", "X1:1.ext", name("X1:", i, ".ext"), "");
  const ConductionGraph& graph = panel.graph();
  const TerminalStrip strip = terminal_strips(graph.netlist()).front();
  const auto cut = strip_pictures({graph, strip, nullptr, 1000, 645});
  EXPECT_GE(cut.size(), 4u);
  for (const std::string& svg : cut) EXPECT_LE(height_of(svg), 645);
  EXPECT_EQ(count(cut, ">wire w"), 60u);
  EXPECT_EQ(count(cut, "<title>terminal X1:1</title>"), 1u) << "once, though it goes on";
  EXPECT_GE(count(cut, "<title>terminal X1:1 (continued)</title>"), 2u);
  EXPECT_EQ(strip_pictures({graph, strip}).size(), 1u);
}

TEST(ReadingsMaps, CutIntoSeveralLoseNoPoint) {
  SmallPanel panel;
  Names name;
  for (int i = 1; i <= 200; ++i) panel.wire(name("w", i), name("X", i, ":1.int"), name("K", i, ":1"));
  const auto cut = readings_maps({panel.graph(), nullptr, 600, 400});
  ASSERT_GT(cut.size(), 2u);
  for (const std::string& svg : cut) EXPECT_LE(height_of(svg), 400);
  for (const std::string_view end : {".int</title>", ".ext</title>"}) EXPECT_EQ(count(cut, end), 200u);
}

}  // namespace
}  // namespace ringtrue
