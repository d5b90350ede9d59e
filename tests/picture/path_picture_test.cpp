#include "ringtrue/picture/path_picture.hpp"

#include <regex>

#include "report/report_support.hpp"

namespace ringtrue {
namespace {

using namespace testing_support;

ChannelRow input(std::string_view point, std::string_view field) {
  ChannelRow row;
  row.point = point;
  row.type = "DI";
  row.tag = "HOPPER_FULL";
  row.field = field;
  return row;
}

struct Group {
  std::string mark, title;  ///< its class, or nothing; what it is
  friend bool operator==(const Group&, const Group&) = default;
  friend std::ostream& operator<<(std::ostream& out, const Group& group) {
    return out << '[' << group.mark << "] " << group.title;
  }
};

/// Points, elements and gaps in the order of the picture.
std::vector<Group> groups(const std::string& svg) {
  static const std::regex group(R"re(<g(?: class="(\w+)")?>\s*<title>([^<]*)</title>)re");
  std::vector<Group> found;
  for (auto at = std::sregex_iterator(svg.begin(), svg.end(), group); at != std::sregex_iterator(); ++at)
    found.push_back({(*at)[1], (*at)[2]});
  return found;
}

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

/// X1:4 by wire 5 to A1:0.0, the terminal on sheet 1.5.
SmallPanel& add_input(SmallPanel& panel) {
  return panel.wire("5", "X1:4.int", "A1:0.0", "1.4").part("X1:4", "terminal", "int", "ext", "1.5");
}

TEST(PathPicture, NothingIsMarkedWithoutFindings) {
  SmallPanel panel;
  add_input(panel).channel(input("A1:0.0", "X1:4"));
  const std::string svg = path_picture({panel.graph(), trace_channel(panel.graph(), 0)});
  EXPECT_EQ(groups(svg), (std::vector<Group>{{"", "A1:0.0"},
                                             {"", "wire 5, sheet 1.4"},
                                             {"", "X1:4.int"},
                                             {"", "terminal X1:4, sheet 1.5"},
                                             {"", "X1:4.ext"}}));
  EXPECT_TRUE(has(svg, "<title>A1:0.0  DI  HOPPER_FULL</title>"));
  EXPECT_TRUE(
      has(svg,
          "signal: complete, A1:0.0 to field terminal X1:4.ext. From A1:0.0; by wire 5, sheet 1.4, to "
          "X1:4.int; by terminal X1:4, sheet 1.5, to X1:4.ext.</desc>"));
  EXPECT_FALSE(has(svg, ">return<")) << "a path that the drawing doesn't state has no lane";
}

TEST(PathPicture, StoppedPathShowsTheGapAndWhatLiesBeyond) {
  SmallPanel panel;
  add_input(panel).part("X1:5", "terminal", "int", "ext").channel(input("A1:0.0", "X1:5"));
  const std::string svg = path_picture({panel.graph(), trace_channel(panel.graph(), 0)});
  const std::vector<Group> drawn = groups(svg);
  ASSERT_EQ(drawn.size(), 7u);
  EXPECT_EQ(drawn[4].title, "X1:4.ext");
  EXPECT_EQ(drawn[5].title, "gap: the path stops");
  EXPECT_EQ(drawn[6].title.substr(0, 4), "X1:5");
  EXPECT_TRUE(has(svg, ">nothing leads on from X1:4.ext</text>"));
}

TEST(PathPicture, ChannelWithoutTargetSaysSo) {
  SmallPanel panel;
  panel.wire("5", "K1:1", "A1:0.0").channel(input("A1:0.0", ""));
  const std::vector<Group> drawn = groups(path_picture({panel.graph(), trace_channel(panel.graph(), 0)}));
  EXPECT_EQ(drawn, (std::vector<Group>{{"", "A1:0.0"}, {"", "nothing leads on"}, {"", "no field terminal"}}));
}

TEST(PathPicture, OpenContactSaysSo) {
  SmallPanel panel;
  panel.wire("5", "S1:14", "A1:0.0").wire("6", "S1:13", "X1:4.int").part("S1", "contact-no", "13", "14");
  panel.part("X1:4", "terminal", "int", "ext").channel(input("A1:0.0", "X1:4"));
  const std::vector<Group> drawn = groups(path_picture({panel.graph(), trace_channel(panel.graph(), 0)}));
  ASSERT_EQ(drawn.size(), 9u);
  EXPECT_EQ(drawn[3].title, "contact S1:13-14, open at rest");
}

/// One finding: likeliest that wire 5 is open; or that terminal X1:4 is, or that X1:4.ext is joined to
/// X1:6.ext.
Findings findings_on(SmallPanel& panel) {
  Findings findings;
  findings.proven.assign(panel.graph().element_count(), 0);
  findings.channels.resize(1);
  Diagnosis open, other;
  open.faults = {fault_at(FaultKind::open, panel.element("5")),
                 joined(FaultKind::short_circuit, panel.point("X1:4.ext"), panel.point("X1:6.ext"))};
  other.faults = {fault_at(FaultKind::open, panel.element("X1:4"))};
  other.rank = 2;
  findings.clusters.resize(1);
  findings.clusters.front().diagnoses = {open, other};
  return findings;
}

TEST(PathPicture, ElementsAreMarkedByTheDiagnosesThatNameThem) {
  SmallPanel panel;
  add_input(panel).part("X1:6", "terminal", "int", "ext").channel(input("A1:0.0", "X1:4"));
  Findings findings = findings_on(panel);
  const auto drawn = [&] {
    return groups(path_picture({panel.graph(), trace_channel(panel.graph(), 0), &findings}));
  };
  EXPECT_EQ(drawn(), (std::vector<Group>{{"", "A1:0.0"},
                                         {"faulty", "wire 5, sheet 1.4, faulty: open, finding 1"},
                                         {"", "X1:4.int"},
                                         {"suspect", "terminal X1:4, sheet 1.5, suspect: open, finding 1"},
                                         {"faulty", "X1:4.ext (faulty: short to X1:6.ext, finding 1)"}}));
  findings.proven[index(panel.element("X1:4"))] = 1;
  EXPECT_EQ(drawn()[3].mark, "proven") << "readings prove it: the other diagnosis is too unlikely to count";
  findings.clusters.clear();
  EXPECT_EQ(drawn()[1].mark, "unproven");
  EXPECT_EQ(drawn()[4].mark, "");
}

TEST(PathPicture, WhatNoReadingTellsFromTheLikeliestIsSuspect) {
  SmallPanel panel;
  add_input(panel).part("X1:6", "terminal", "int", "ext").channel(input("A1:0.0", "X1:4"));
  Findings findings = findings_on(panel);
  std::vector<Diagnosis>& diagnoses = findings.clusters.front().diagnoses;
  diagnoses.front().equivalent = {diagnoses.back().faults};
  diagnoses.pop_back();
  const std::vector<Group> drawn =
      groups(path_picture({panel.graph(), trace_channel(panel.graph(), 0), &findings}));
  EXPECT_EQ(drawn[1].mark, "faulty");
  EXPECT_EQ(drawn[3].mark, "suspect");
}

TEST(PathPicture, NamesThatAreMarkupOrNoTextStayText) {
  SmallPanel panel;
  ChannelRow row = input("A1:0.0", "X1:4");
  row.tag = "<script>&\"'";
  row.text = "bell \x07, byte \xFF";
  add_input(panel).channel(row);
  const std::string svg = path_picture({panel.graph(), trace_channel(panel.graph(), 0)});
  EXPECT_TRUE(has(svg, "&lt;script&gt;&amp;&quot;'</text>"));
  EXPECT_TRUE(has(svg, ">bell \uFFFD, byte \uFFFD</text>"));
  EXPECT_FALSE(has(svg, "<script"));
}

TEST(PathPicture, NarrowPictureWrapsIntoMoreRows) {
  SmallPanel panel;
  panel.part("X1:4", "terminal", "int", "ext").channel(input("A1:0.0", "X1:4"));
  panel.wire("1", "A1:0.0", "K1:1")
      .wire("2", "K1:1", "K1:2")
      .wire("3", "K1:2", "K1:3")
      .wire("4", "K1:3", "X1:4.int");
  const auto rows = [&](int width) {
    const std::string svg = path_picture({panel.graph(), trace_channel(panel.graph(), 0), nullptr, width});
    std::size_t count = 1;
    for (std::size_t at = svg.find(">goes on<"); at != std::string::npos; at = svg.find(">goes on<", at + 1))
      ++count;
    return count;
  };
  EXPECT_EQ(rows(960), 1u);
  EXPECT_EQ(rows(k_least_picture_width), 3u);
  EXPECT_EQ(rows(1), 3u) << "no narrower than the least width";
}

}  // namespace
}  // namespace ringtrue
