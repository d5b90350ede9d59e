// The walk against a recount by names that shares nothing with it, and against the best of all orders.
#include "plan/walk.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <numeric>
#include <random>

#include "tests/support/netlist_text.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

std::string strip(const std::string& name, int terminals) {
  std::string text;
  for (int i = 1; i <= terminals; ++i) text += "part " + name + ":" + std::to_string(i) + " terminal\n";
  return text;
}

/// Strips X1, X2, X3, relays K1 and K2, a button in the door, a motor in the field.
const std::string k_panel = strip("X1", 12) + strip("X2", 8) + strip("X3", 4) +
                            "part K1 coil A1 A2 400\npart K1 contact-no 11 14\n"
                            "part K2 coil A1 A2 400\npart K2 contact-no 11 14\n"
                            "part S1 contact-no 13 14 - - - door\n"
                            "part M1 motor U V - - - field\n"
                            "1 X1:1.int K1:A1\n2 X1:2.int K1:11\n3 X2:1.int S1:13\n4 X3:4.ext M1:U\n";

struct Panel {
  Netlist drawn;
  ConductionGraph graph;
  std::vector<PlanCondition> conditions;

  explicit Panel(const std::string& text, const std::vector<std::string>& set = {})
      : drawn(netlist(text)), graph(drawn), conditions(1) {
    for (const std::string& condition : set)
      conditions.push_back({condition, overlay_of(parse_condition(condition, drawn).value(), graph), 0});
  }

  [[nodiscard]] PointId point(const std::string& name) const { return find_point(name, drawn).value().point; }
  [[nodiscard]] PlannedReading reading(const std::string& from, const std::string& to) const {
    PlannedReading made;
    made.from = point(from), made.to = point(to);
    return made;
  }
  [[nodiscard]] std::string name(const PlannedReading& reading, PointId p) const {
    return point_name(p, conditions[reading.condition].made, graph);
  }
  [[nodiscard]] std::string text(const PlannedReading& reading) const {
    return name(reading, reading.from) + " " + name(reading, reading.to);
  }
  void order(std::vector<PlannedReading>& readings, const Efforts& efforts = {}) const {
    put_in_walking_order(graph, conditions, efforts, readings);
  }
  [[nodiscard]] WalkFigures figures(const std::vector<PlannedReading>& readings,
                                    const Efforts& efforts = {}) const {
    return figures_of(graph, conditions, readings, efforts);
  }
};

const std::vector<std::string> k_conditions = {"K1=operated", "1@X1:1.int=lifted; 2@X1:2.int=lifted",
                                               "1@X1:1.int=lifted; K2=operated"};
/// From one to another: what both have stays. 3 for something operated, 10 for an end lifted.
const double k_condition_efforts[4][4] = {{0, 3, 20, 13}, {0, 0, 20, 13}, {0, 3, 0, 3}, {0, 3, 10, 0}};

/// Random readings; few points, so that many share one.
std::vector<PlannedReading> random_readings(const Panel& panel, std::mt19937& random, std::size_t count,
                                            bool with_conditions) {
  const auto condition_count = with_conditions ? panel.conditions.size() : 1;
  const std::uint32_t points = panel.graph.point_count();
  const std::uint32_t begin = static_cast<std::uint32_t>(random() % points);
  const std::uint32_t range = static_cast<std::uint32_t>(4 + random() % points);
  std::vector<PlannedReading> readings(count);
  for (PlannedReading& reading : readings) {
    reading.condition = static_cast<std::uint32_t>(random() % condition_count);
    const std::uint32_t loose = panel.conditions[reading.condition].made.overlay.loose_points();
    const auto some_point = [&] {
      if (loose > 0 && random() % 3 == 0)
        return PointId{points + static_cast<std::uint32_t>(random() % loose)};
      return PointId{(begin + static_cast<std::uint32_t>(random() % range)) % points};
    };
    reading.from = some_point();
    do reading.to = some_point();
    while (reading.to == reading.from);
    reading.polarity_matters = random() % 5 == 0;
    if (random() % 4 == 0) reading.expected = Expected::ohms;
  }
  return readings;
}

/// A point's name taken apart by hand: `X1:5.int`, `K1:A1`, `12@X1:5.int`.
struct ByName {
  std::string part, letters;
  int number = 0;
  bool is_external = false, is_pin = false;

  explicit ByName(std::string name) {
    is_pin = name.find('@') != std::string::npos || name.find('.') == std::string::npos;
    if (name.find('@') != std::string::npos) name = name.substr(name.find('@') + 1);
    if (name.find('.') != std::string::npos) {
      is_external = name.substr(name.find('.')) == ".ext";
      name = name.substr(0, name.find('.'));
    }
    part = name.substr(0, name.find(':'));
    for (const char c : name.substr(name.find(':') + 1))
      if (c >= '0' && c <= '9')
        number = 10 * number + (c - '0');
      else
        letters += c;
  }
};

double apart_by_name(const std::string& one, const std::string& other, const Efforts& efforts) {
  if (one == other) return 0;
  const ByName a(one), b(other);
  const std::map<std::string, int> places = {{"S1", 1}, {"M1", 2}};
  const auto place = [&](const ByName& x) { return places.count(x.part) ? places.at(x.part) : 0; };
  if (place(a) != place(b)) return 3 * efforts.other_part;
  if (a.part != b.part) return efforts.other_part;
  if (a.letters != b.letters) return efforts.same_part;
  const int steps = std::max(1, std::abs(a.number - b.number) + (a.is_external == b.is_external ? 0 : 1));
  return efforts.same_part * steps / (steps + 1);
}

WalkFigures recount(const Panel& panel, const std::vector<PlannedReading>& readings, const Efforts& efforts) {
  WalkFigures figures;
  figures.readings = readings.size();
  std::string red, black;
  std::uint32_t condition = 0;
  for (const PlannedReading& reading : readings) {
    if (reading.condition != condition) {
      red = black = "";
      figures.effort += k_condition_efforts[condition][reading.condition];
      condition = reading.condition;
      figures.conditions += condition != 0 ? 1 : 0;
    }
    figures.effort += efforts.reading + (reading.expected == Expected::ohms ? efforts.value : 0);
    for (auto [probe, to] : {std::pair{&red, panel.name(reading, reading.from)},
                             std::pair{&black, panel.name(reading, reading.to)}}) {
      if (*probe == to) continue;
      ++figures.moves;
      figures.effort += probe->empty() ? 0 : apart_by_name(*probe, to, efforts);
      figures.effort += ByName(to).is_pin ? efforts.pin : 0;
      *probe = to;
    }
  }
  return figures;
}

/// The least effort of the readings left, in any order and turned any way, by trying all of them;
/// `best_order` is the order that has it. `best` is an effort known to be enough.
double least_effort(const Panel& panel, std::vector<PlannedReading>& readings, std::size_t done,
                    double so_far, double best, const Efforts& efforts,
                    std::vector<PlannedReading>& best_order) {
  if (so_far >= best) return best;
  if (done == readings.size()) {
    best_order = readings;
    return so_far;
  }
  for (std::size_t i = done; i < readings.size(); ++i) {
    std::swap(readings[done], readings[i]);
    PlannedReading& next = readings[done];
    for (int turned = 0; turned < (next.polarity_matters ? 1 : 2); ++turned) {
      if (turned == 1) std::swap(next.from, next.to);
      double effort = so_far;
      for (const bool black : {false, true}) {
        const std::string to = panel.name(next, black ? next.to : next.from);
        std::string from;
        if (done > 0) from = panel.name(next, black ? readings[done - 1].to : readings[done - 1].from);
        if (from == to) continue;
        effort += (done > 0 ? apart_by_name(from, to, efforts) : 0) + (ByName(to).is_pin ? efforts.pin : 0);
      }
      best = std::min(best, least_effort(panel, readings, done + 1, effort, best, efforts, best_order));
      if (turned == 1) std::swap(next.from, next.to);
    }
    std::swap(readings[done], readings[i]);
  }
  return best;
}

using Key = std::tuple<std::uint32_t, PointId, PointId, bool, Expected>;
std::vector<Key> keys_of(const std::vector<PlannedReading>& readings) {
  std::vector<Key> keys;
  for (const PlannedReading& r : readings)
    keys.emplace_back(r.condition, r.polarity_matters ? r.from : std::min(r.from, r.to),
                      r.polarity_matters ? r.to : std::max(r.from, r.to), r.polarity_matters, r.expected);
  std::sort(keys.begin(), keys.end());
  return keys;
}

TEST(Walk, HasTheSameReadingsByConditionAndTakesNoMoreThanTheOrderGiven) {
  const Panel panel(k_panel, k_conditions);
  std::mt19937 random(test_seed());
  for (int i = 0; i < 300; ++i) {
    std::vector<PlannedReading> given = random_readings(panel, random, random() % 60, true);
    std::vector<PlannedReading> walk = given;
    panel.order(walk);
    EXPECT_EQ(keys_of(walk), keys_of(given));
    const auto by_condition = [](const auto& x, const auto& y) { return x.condition < y.condition; };
    EXPECT_TRUE(std::is_sorted(walk.begin(), walk.end(), by_condition));
    std::stable_sort(given.begin(), given.end(), by_condition);
    EXPECT_LE(panel.figures(walk).effort, panel.figures(given).effort + 1e-9) << "case " << i;
  }
}

TEST(Walk, FiguresEqualARecountByNames) {
  const Panel panel(k_panel, k_conditions);
  std::mt19937 random(test_seed() + 1);
  Efforts efforts;
  efforts.reading = 1.5, efforts.value = 0.125, efforts.same_part = 0.4, efforts.other_part = 1.1;
  efforts.pin = 0.3;
  for (int i = 0; i < 300; ++i) {
    std::vector<PlannedReading> readings = random_readings(panel, random, random() % 40, true);
    for (const bool in_order : {false, true}) {
      if (in_order) panel.order(readings, efforts);
      const WalkFigures figures = panel.figures(readings, efforts);
      const WalkFigures expected = recount(panel, readings, efforts);
      EXPECT_EQ(figures.readings, expected.readings);
      EXPECT_EQ(figures.moves, expected.moves);
      EXPECT_EQ(figures.conditions, expected.conditions);
      EXPECT_NEAR(figures.effort, expected.effort, 1e-9);
    }
  }
}

// Seeds 1, 2, 3: mean 1.009, 1.005, 1.005, worst 1.23, 1.29, 1.30, of what the moves alone take.
TEST(Walk, UpToSevenReadingsTakeHardlyMoreThanTheBestOrder) {
  const Panel panel(k_panel);
  std::mt19937 random(test_seed() + 2);
  Efforts moves_alone;
  moves_alone.reading = moves_alone.value = 0;
  double sum = 0, worst = 0;
  constexpr int k_cases = 200;
  for (int i = 0; i < k_cases; ++i) {
    std::vector<PlannedReading> readings = random_readings(panel, random, 3 + random() % 5, false);
    panel.order(readings, moves_alone);
    const double effort = panel.figures(readings, moves_alone).effort;
    std::vector<PlannedReading> best_order;
    const double best = least_effort(panel, readings, 0, 0, effort + 0.01, moves_alone, best_order);
    ASSERT_LE(best, effort + 1e-9);
    panel.order(best_order, moves_alone);  // not made worse
    EXPECT_NEAR(panel.figures(best_order, moves_alone).effort, best, 1e-9);
    const double ratio = best > 0 ? effort / best : 1;
    sum += ratio, worst = std::max(worst, ratio);
  }
  std::printf("effort of moves against the best: mean %.4f, worst %.4f\n", sum / k_cases, worst);
  EXPECT_LE(sum / k_cases, 1.02);
  EXPECT_LE(worst, 1.5);
}

TEST(Walk, ChainAlongAStripMovesOneProbePerReading) {
  const Panel panel(k_panel);
  std::vector<PlannedReading> readings;
  for (int i = 1; i < 12; ++i)
    readings.push_back(
        panel.reading("X1:" + std::to_string(i) + ".int", "X1:" + std::to_string(i + 1) + ".int"));
  std::shuffle(readings.begin(), readings.end(), std::mt19937(7));
  panel.order(readings);
  EXPECT_EQ(panel.figures(readings).moves, 2u + 10u);
}

TEST(Walk, TrailThroughManyDevicesIsFollowed) {
  constexpr std::uint32_t k_devices = 60;
  std::string text;
  for (std::uint32_t i = 1; i <= k_devices; ++i) text += "part K" + std::to_string(i) + " coil A1 A2 400\n";
  const Panel panel(text);
  std::vector<std::uint32_t> trail(k_devices);
  std::iota(trail.begin(), trail.end(), 1u);
  std::mt19937 random(5);
  std::shuffle(trail.begin(), trail.end(), random);
  std::vector<PlannedReading> readings;
  for (std::size_t i = 0; i + 1 < trail.size(); ++i)
    readings.push_back(
        panel.reading("K" + std::to_string(trail[i]) + ":A1", "K" + std::to_string(trail[i + 1]) + ":A1"));
  std::shuffle(readings.begin(), readings.end(), random);
  panel.order(readings);
  // One move per reading; both probes where the walk comes to the trail in the middle of what is left of it.
  EXPECT_LE(panel.figures(readings).moves, readings.size() + 1 + 4);
}

TEST(Walk, OneProbeIsParkedAndTheOtherGoesAlongTheStrip) {
  const Panel panel(k_panel);
  std::vector<PlannedReading> readings;
  for (const int i : {3, 1, 8, 5, 2, 7, 4, 6})
    readings.push_back(panel.reading("X2:" + std::to_string(i) + ".ext", "X1:9.ext"));
  panel.order(readings);
  ASSERT_EQ(readings.size(), 8u);
  std::vector<std::string> order;
  for (const PlannedReading& reading : readings) order.push_back(panel.text(reading));
  if (order.front() != "X1:9.ext X2:1.ext") std::reverse(order.begin(), order.end());
  for (int i = 1; i <= 8; ++i)
    EXPECT_EQ(order[static_cast<std::size_t>(i - 1)], "X1:9.ext X2:" + std::to_string(i) + ".ext");
}

TEST(Walk, PairsOfStripsAreReadInOneGo) {
  const Panel panel(k_panel);
  std::vector<PlannedReading> readings;
  for (int i = 1; i <= 4; ++i) {
    const std::string number = std::to_string(i) + ".int";
    readings.push_back(panel.reading("X2:" + number, "X1:" + number));
    readings.push_back(panel.reading("X3:" + number, "X2:" + number));
    readings.push_back(panel.reading("X1:" + number, "X3:" + number));
  }
  std::shuffle(readings.begin(), readings.end(), std::mt19937(3));
  panel.order(readings);
  const auto parts = [&](const PlannedReading& reading) {
    std::string a = ByName(panel.name(reading, reading.from)).part;
    std::string b = ByName(panel.name(reading, reading.to)).part;
    return std::pair{std::min(a, b), std::max(a, b)};
  };
  int changes = 0;
  for (std::size_t i = 1; i < readings.size(); ++i) changes += parts(readings[i]) != parts(readings[i - 1]);
  EXPECT_EQ(changes, 2);
}

TEST(Walk, PartsStandByPlaceThenBySheet) {
  const Panel panel(
      "part S1 contact-no 13 14 - - - door\npart X9:1 terminal\npart X9:2 terminal\n"
      "part X8:1 terminal\npart X8:2 terminal\npart X7:1 terminal\npart X7:2 terminal\n"
      "1 X9:1.int X9:2.int wire 10\n2 X8:1.int X8:2.int wire 9.3\n3 X7:1.int X7:2.int wire 9.4\n");
  std::vector<PlannedReading> readings = {
      panel.reading("S1:13", "S1:14"), panel.reading("X9:2.int", "X9:1.int"),
      panel.reading("X7:1.int", "X7:2.int"), panel.reading("X8:1.int", "X8:2.int")};
  panel.order(readings);
  std::vector<std::string> order;
  for (const PlannedReading& reading : readings)
    order.push_back(ByName(panel.name(reading, reading.from)).part);
  EXPECT_EQ(order, (std::vector<std::string>{"X8", "X7", "X9", "S1"}));
}

TEST(Walk, WireByWireReadsEachConductorOfThePanelInTheOrderOfTheList) {
  const Panel panel(k_panel);
  std::vector<PlannedReading> listed = {panel.reading("X1:1.int", "K1:A1"),
                                        panel.reading("X1:2.int", "K1:11"),
                                        panel.reading("X2:1.int", "S1:13")};  // 4 goes to the field
  const WalkFigures figures = wire_by_wire(panel.graph, {}), expected = recount(panel, listed, {});
  EXPECT_EQ(figures.readings, 3u);
  EXPECT_EQ(figures.moves, expected.moves);
  EXPECT_EQ(figures.conditions, 0u);
  EXPECT_NEAR(figures.effort, expected.effort, 1e-9);
}

TEST(Walk, NothingToReadTakesNothing) {
  const Panel panel(k_panel);
  std::vector<PlannedReading> none;
  panel.order(none);
  EXPECT_TRUE(none.empty());
  EXPECT_EQ(panel.figures(none).effort, 0);
}

}  // namespace
}  // namespace ringtrue::testing
