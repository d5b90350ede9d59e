// One more reading at a time against beginning anew: after each reading the report for programs has to be the
// same in every byte.
#include <gtest/gtest.h>

#include <cstdio>
#include <random>

#include "diagnose/universe.hpp"
#include "ringtrue/compare/notes.hpp"
#include "ringtrue/diagnose/state.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/report/compare_report.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

/// A row that owns its texts.
struct OwnRow {
  std::string from, to, value, conditions, id;
  std::string time = {};
  [[nodiscard]] ReadingRow row() const {
    ReadingRow row;
    row.from = from, row.to = to, row.value = value, row.conditions = conditions, row.id = id;
    row.time = time;
    return row;
  }
};

/// Everything that was found, in bytes; what the work was is left out.
std::string report_of(const ConductionGraph& graph, const DiagnosisState& state) {
  Findings findings = state.findings();
  findings.nodes_expanded = findings.nets_relabelled = 0;
  const ReadingNotes notes = note_readings(graph, state.readings(), state.comparison(), findings.proven, 6);
  return compare_json({graph, state.readings(), state.comparison(), findings, notes, DiagnoseOptions{}});
}

class Panel {
 public:
  Panel(const ConductionGraph& graph, unsigned seed) : graph_(graph), random_(seed) {}

  /// Readings of the panel with some faults, at pairs and under conditions chosen at random; a few are
  /// repeated, and a few are wrong.
  std::vector<OwnRow> readings(std::size_t count, std::size_t fault_count,
                               std::vector<std::string> conditions) {
    const std::vector<Fault> faults = choose(fault_count);
    std::vector<OwnRow> rows;
    while (rows.size() < count) {
      if (rows.size() > 10 && random_() % 40 == 0) {
        rows.push_back(rows[random_() % rows.size()]);
      } else {
        const auto p = PointId(random_() % graph_.point_count()),
                   q = PointId(random_() % graph_.point_count());
        if (p != q) rows.push_back(read(p, q, conditions[random_() % conditions.size()], faults));
      }
      if (!rows.empty()) rows.back().id = "R" + std::to_string(rows.size());
    }
    return rows;
  }

 private:
  std::vector<Fault> choose(std::size_t count) {
    const Readings none;
    const Comparison comparison = compare(graph_, none, {}).value();
    const Landing landing(graph_);
    const Costs costs(landing, Priors{});
    const ReadingCosts reading_costs(landing, comparison, none, Priors{});
    const Consistency consistency(graph_, none, comparison);
    const std::vector<Candidate> universe = fault_universe(consistency, landing, costs, reading_costs);
    std::vector<Fault> chosen;
    while (chosen.size() < count) {
      const Fault fault = universe[random_() % universe.size()].fault;
      if (is_compatible(fault, chosen, landing)) chosen.push_back(fault);
    }
    return chosen;
  }

  OwnRow read(PointId p, PointId q, const std::string& condition, const std::vector<Fault>& faults) {
    Overlay overlay = overlay_of(parse_condition(condition, graph_.netlist()).value(), graph_).overlay;
    for (const Fault& fault : faults) apply(fault, graph_, overlay);
    Probing probing;
    probing.from = p, probing.to = q;
    const OhmInterval ohms = expected_resistance(View(graph_, overlay), probing);
    OwnRow row{graph_.netlist().points.name(p), graph_.netlist().points.name(q), "", condition, ""};
    const double value = ohms.is_open()              ? 1e9
                         : ohms.hi < k_infinite_ohms ? (ohms.lo.value + ohms.hi.value) / 2
                                                     : 1.5 * ohms.lo.value + 200;
    const bool in_ohms = random_() % 5 == 0, is_wrong = random_() % 200 == 0;
    if (in_ohms)
      row.value = value > 1e8 ? "OL" : std::to_string(is_wrong ? 3 * value + 7 : value);
    else
      row.value = (value <= 30) != is_wrong ? "beep" : "open";
    return row;
  }

  const ConductionGraph& graph_;
  std::mt19937 random_;
};

struct Tally {
  std::size_t readings = 0, disagreements = 0, tried = 0, tried_anew = 0, relabelled = 0, relabelled_anew = 0;
};

/// The first so many rows, built in one go.
Readings first_of(const std::vector<OwnRow>& rows, std::size_t count) {
  ReadingsBuilder builder("");
  for (std::size_t i = 0; i < count; ++i) builder.add(rows[i].row(), static_cast<std::uint32_t>(i + 2));
  return builder.finish().value();
}

/// Adds the rows from `begun` on one by one and compares with beginning anew each time.
void expect_the_same(const ConductionGraph& graph, const std::vector<OwnRow>& rows, Tally& tally,
                     const Events& events = {}, std::size_t begun = 0) {
  DiagnoseOptions options;
  options.max_faults = 2;
  auto state = begin_diagnosis(graph, first_of(rows, begun), events, {}, {}, options);
  ASSERT_TRUE(state.has_value());
  for (std::size_t i = begun; i < rows.size(); ++i) {
    state = diagnose(std::move(*state), rows[i].row());
    ASSERT_TRUE(state.has_value()) << to_text(state.error().front());
    const auto scratch = begin_diagnosis(graph, first_of(rows, i + 1), events, {}, {}, options);
    ASSERT_TRUE(scratch.has_value());
    ASSERT_EQ(report_of(graph, *state), report_of(graph, *scratch)) << "after " << i + 1 << " readings";
    tally.tried_anew += scratch->findings().nodes_expanded;
    tally.relabelled_anew += scratch->findings().nets_relabelled;
  }
  tally.readings += rows.size();
  tally.disagreements += state->comparison().disagree;
  tally.tried += state->findings().nodes_expanded;
  tally.relabelled += state->findings().nets_relabelled;
}

void print(const Tally& tally) {
  std::printf(
      "%zu readings, %zu disagree; sets tried %zu, nets relabelled %zu; beginning anew each time %zu and "
      "%zu\n",
      tally.readings, tally.disagreements, tally.tried, tally.relabelled, tally.tried_anew,
      tally.relabelled_anew);
}

TEST(OneReadingMore, GivesWhatAllReadingsGiveOnTheQuickStart) {
  const unsigned seed = test_seed();
  const Netlist net = std::move(load_netlist(RINGTRUE_NETLISTS "/quickstart").value());
  const ConductionGraph graph(net);
  Tally tally;
  Panel panel(graph, seed);
  expect_the_same(graph, panel.readings(1000, 1, {"", "", "", "K1=operated", "S1=operated"}), tally);
  print(tally);
  EXPECT_GT(tally.disagreements, 5u);
  EXPECT_LT(tally.tried * 5, tally.tried_anew);
}

TEST(OneReadingMore, GivesWhatAllReadingsGiveOnSmallPanels) {
  const unsigned seed = test_seed();
  Tally tally;
  for (unsigned round = 0; round < 20; ++round) {
    const Netlist net = netlist(random_small_panel(1000 * seed + round));
    const ConductionGraph graph(net);
    Panel panel(graph, 1000 * seed + round);
    expect_the_same(graph, panel.readings(40, round % 3, {"", "", "K1=operated", "X1:1=out"}), tally);
    if (HasFatalFailure()) FAIL() << "panel " << 1000 * seed + round;
  }
  print(tally);
}

std::string at_minute(std::size_t minute) {
  const std::string text = std::to_string(minute % 60);
  return "2026-03-02T" + std::to_string(10 + minute / 60) + ":" + (text.size() < 2 ? "0" : "") + text +
         ":00Z";
}

/// Readings a minute apart, some without a time, and repairs and temporary changes at clamps of theirs.
TEST(OneReadingMore, GivesWhatAllReadingsGiveAfterEvents) {
  const unsigned seed = test_seed();
  Tally tally;
  std::size_t stale = 0;
  for (unsigned round = 0; round < 30; ++round) {
    const Netlist net = netlist(random_small_panel(1000 * seed + round));
    const ConductionGraph graph(net);
    Panel panel(graph, 1000 * seed + round);
    std::mt19937 random(seed + round);
    std::vector<OwnRow> rows = panel.readings(50, round % 3, {"", "", "K1=operated", "X1:1=out"});
    constexpr std::size_t k_begun = 25;
    for (std::size_t i = 0; i < rows.size(); ++i) {
      rows[i].time = random() % 12 == 0 ? "" : at_minute(random() % 12 == 0 ? i / 2 : i);
      // Taken again, as after a repair.
      if (i >= k_begun && i % 2 == 0) {
        const OwnRow& before = rows[random() % k_begun];
        rows[i].from = before.from, rows[i].to = before.to, rows[i].conditions = before.conditions;
        if (random() % 4 != 0) rows[i].value = before.value;
      }
    }
    Events events;
    for (std::size_t i = 0; i < 1 + round % 3; ++i) {
      Event event;
      event.kind = i == 1 ? EventKind::temporary_made : EventKind::repair;
      event.time = at_minute(5 + random() % k_begun);
      event.points = {rows[random() % k_begun].from, rows[random() % k_begun].to};
      events.rows.push_back(std::move(event));
    }
    expect_the_same(graph, rows, tally, events, k_begun);
    if (HasFatalFailure()) FAIL() << "panel " << 1000 * seed + round;
    stale += begin_diagnosis(graph, first_of(rows, k_begun), events).value().comparison().stale;
  }
  print(tally);
  std::printf("%zu readings were stale\n", stale);
  EXPECT_GT(stale, 50u);
  EXPECT_LT(tally.tried * 2, tally.tried_anew);
}

TEST(OneReadingMore, LeavesACopyOfTheStateAsItWas) {
  const Netlist net = netlist("1 K1:A1 X1:1.int\n2 K2:A1 X1:2.int\n");
  const ConductionGraph graph(net);
  const auto state = begin_diagnosis(graph, Readings{}).value();
  const OwnRow row{"K1:A1", "X1:1.int", "open", "", "R1"};
  const auto more = diagnose(state, row.row()).value();
  EXPECT_TRUE(state.findings().clusters.empty());
  EXPECT_EQ(state.readings().rows.size(), 0u);
  EXPECT_EQ(more.findings().clusters.size(), 1u);
}

}  // namespace
}  // namespace ringtrue::testing
