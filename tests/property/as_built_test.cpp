// The guarantee of a changed drawing: whatever explanation of a finding is drawn, written to files and loaded
// again, the same readings have nothing left against it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <map>
#include <random>

#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/load/load.hpp"
#include "ringtrue/revise/as_built.hpp"
#include "ringtrue/write/write.hpp"
#include "tests/support/drawn_faults.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/temp_folder.hpp"

namespace ringtrue::testing {
namespace {

struct OwnRow {
  std::string from, to, value, conditions, id;
};

Readings readings_of(const std::vector<OwnRow>& rows, const std::vector<ReadingId>& but_for = {}) {
  auto kept = std::make_shared<std::vector<OwnRow>>(rows);
  ReadingsBuilder builder("readings.csv");
  builder.keep(kept);
  for (std::uint32_t i = 0; i < kept->size(); ++i) {
    if (std::count(but_for.begin(), but_for.end(), ReadingId{i}) != 0) continue;
    const OwnRow& own = (*kept)[i];
    ReadingRow row;
    row.from = own.from, row.to = own.to, row.value = own.value, row.conditions = own.conditions;
    row.id = own.id;
    builder.add(row, i + 2);
  }
  Readings made = builder.finish().value();
  made.is_final = true;
  return made;
}

/// Readings of a panel with faults; some under conditions, lifted ends among them, and a few in ohms.
class Wireman {
 public:
  Wireman(const ConductionGraph& graph, unsigned seed) : graph_(graph), random_(seed) {}

  std::vector<Fault> build_wrongly(std::size_t count) {
    const Readings none;
    const Comparison comparison = compare(graph_, none, {}).value();
    const Landing landing(graph_);
    const std::vector<Fault> universe = universe_of(graph_, none, comparison);
    while (faults_.size() < count && !universe.empty()) {
      const Fault fault = universe[random_() % universe.size()];
      if (is_compatible(fault, faults_, landing)) faults_.push_back(fault);
    }
    return faults_;
  }

  std::vector<OwnRow> read(std::size_t count) {
    std::vector<OwnRow> rows;
    while (rows.size() < count) {
      const PointId p{static_cast<std::uint32_t>(random_() % graph_.point_count())},
          q{static_cast<std::uint32_t>(random_() % graph_.point_count())};
      if (p == q) continue;
      rows.push_back(read(p, q, some_condition()));
      rows.back().id = "R" + std::to_string(rows.size());
    }
    return rows;
  }

 private:
  std::string some_condition() {
    const unsigned chance = static_cast<unsigned>(random_() % 8);
    const Netlist& net = graph_.netlist();
    if (chance == 0 && !net.conductors.empty()) {
      const auto i = static_cast<std::uint32_t>(random_() % net.conductors.size());
      const std::string text =
          net.conductor_name(i) + "@" + net.points.name(net.conductors[i].from) + "=lifted";
      return parse_condition(text, net) ? text : "";
    }
    const char* text = chance == 1 ? "K1=operated" : chance == 2 ? "X1:1=out" : "";
    return parse_condition(text, net) ? text : "";
  }

  OwnRow read(PointId p, PointId q, const std::string& condition) {
    Overlay overlay = overlay_of(parse_condition(condition, graph_.netlist()).value(), graph_).overlay;
    for (const Fault& fault : faults_) apply(fault, graph_, overlay);
    Probing probing;
    probing.from = p, probing.to = q;
    const OhmInterval ohms = expected_resistance(View(graph_, overlay), probing);
    const double value = ohms.is_open()              ? 1e9
                         : ohms.hi < k_infinite_ohms ? (ohms.lo.value + ohms.hi.value) / 2
                                                     : 1.5 * ohms.lo.value + 200;
    OwnRow row{graph_.netlist().points.name(p), graph_.netlist().points.name(q), "", condition, ""};
    const bool is_wrong = random_() % 100 == 0;
    if (random_() % 4 == 0)
      row.value = value > 1e8 ? "OL" : std::to_string(is_wrong ? 3 * value + 7 : value);
    else
      row.value = (value <= 30) != is_wrong ? "beep" : "open";
    return row;
  }

  const ConductionGraph& graph_;
  std::mt19937 random_;
  std::vector<Fault> faults_;
};

struct Counts {
  std::size_t clusters = 0, drawn = 0, undrawable = 0, written = 0, not_judged = 0, whole = 0,
              parted_by_lifting = 0;
};

class Guarantee {
 public:
  Guarantee(const Netlist& net, const ConductionGraph& graph, std::vector<OwnRow> rows, Counts& counts)
      : net_(net), graph_(graph), rows_(std::move(rows)), readings_(readings_of(rows_)), counts_(counts) {
    comparison_ = compare(graph_, readings_, {}).value();
    DiagnoseOptions options;
    options.max_faults = 2;
    findings_ = diagnose(graph_, readings_, comparison_, options);
  }

  void check() {
    for (std::size_t c = 0; c < findings_.clusters.size(); ++c) {
      ++counts_.clusters;
      for (std::size_t d = 0; d < findings_.clusters[c].diagnoses.size(); ++d) {
        const Diagnosis& diagnosis = findings_.clusters[c].diagnoses[d];
        draw({c}, {diagnosis.faults}, d == 0);
        // No reading between points of the drawing parts these; one at or under a lifted end may.
        for (const std::vector<Fault>& other : diagnosis.equivalent)
          if (explains(other))
            draw({c}, {other}, false);
          else
            ++counts_.parted_by_lifting;
      }
    }
    if (findings_.conflicts.empty()) draw_likeliest();
  }

 private:
  /// All clusters by their likeliest, one after another, then all at once.
  void draw_likeliest() {
    std::vector<std::size_t> clusters;
    std::vector<std::vector<Fault>> decided;
    for (std::size_t c = 0; c < findings_.clusters.size(); ++c) {
      if (findings_.clusters[c].diagnoses.empty()) continue;
      const std::vector<Fault>& faults = findings_.clusters[c].diagnoses.front().faults;
      if (std::any_of(faults.begin(), faults.end(), [&](const Fault& f) { return cannot_be_drawn(f, net_); }))
        continue;
      if (moves_what_others_move(faults, decided)) continue;
      clusters.push_back(c);
      decided.push_back(faults);
      draw(clusters, decided, true);
    }
    if (!clusters.empty() && clusters.size() == findings_.clusters.size()) ++counts_.whole;
  }

  /// Somebody has to decide between two that have one end at two places.
  [[nodiscard]] bool moves_what_others_move(const std::vector<Fault>& faults,
                                            const std::vector<std::vector<Fault>>& decided) const {
    std::map<std::pair<ElementId, End>, PointId> at;
    for (const std::vector<Fault>& others : decided)
      for (const Fault& fault : others)
        for (const LandedEnd& landed : landed_ends(fault, graph_))
          at[{landed.conductor, landed.end}] = landed.at;
    for (const Fault& fault : faults)
      for (const LandedEnd& landed : landed_ends(fault, graph_)) {
        const auto there = at.find({landed.conductor, landed.end});
        if (there != at.end() && there->second != landed.at) return true;
      }
    return false;
  }

  [[nodiscard]] bool explains(const std::vector<Fault>& faults) const {
    for (std::uint32_t i = 0; i < rows_.size(); ++i) {
      if (comparison_.standing[i] > Standing::either || is_set_aside(faults, ReadingId{i})) continue;
      if (readings_.conditions[readings_.rows[i].condition].find("lifted") == std::string::npos) continue;
      Overlay overlay = comparison_.conditions.overlays[readings_.rows[i].condition].overlay;
      for (const Fault& fault : faults) apply(fault, graph_, overlay);
      if (judge(View(graph_, overlay), comparison_.probings[i]) == Verdict::disagrees) return false;
    }
    return true;
  }

  void draw(const std::vector<std::size_t>& clusters, const std::vector<std::vector<Fault>>& decided,
            bool in_files) {
    std::string text;
    bool is_undrawable = false;
    for (const std::vector<Fault>& faults : decided)
      for (const Fault& fault : faults) {
        text += text_of(fault, graph_) + "; ";
        is_undrawable = is_undrawable || cannot_be_drawn(fault, net_);
      }
    const auto built = as_built(graph_, decided, readings_, comparison_);
    ASSERT_EQ(!built.has_value(), is_undrawable) << text << (built ? "" : to_text(built.error().front()));
    if (!built) return void(++counts_.undrawable);
    ++counts_.drawn;
    counts_.not_judged += built->no_longer_judged.size();
    expect_nothing_left(built->netlist, clusters, *built, text);
    if (!in_files) return;
    ++counts_.written;
    for (const char* name : {"as-built", "as-built.xml"}) {
      ASSERT_TRUE(write_netlist(built->netlist, folder_.path() / name, Existing::replace).has_value());
      const auto loaded = load_netlist(folder_.path() / name);
      ASSERT_TRUE(loaded.has_value()) << text << to_text(loaded.error().front());
      expect_nothing_left(*loaded, clusters, *built, text);
    }
  }

  void expect_nothing_left(const Netlist& netlist, const std::vector<std::size_t>& decided,
                           const AsBuilt& built, const std::string& text) {
    const ConductionGraph graph(netlist);
    const Comparison after = compare(graph, readings_of(rows_), {}).value();
    for (std::uint32_t i = 0; i < rows_.size(); ++i) {
      const auto has = [&](const std::vector<ReadingId>& all) {
        return std::count(all.begin(), all.end(), ReadingId{i}) != 0;
      };
      const bool was_decided = std::any_of(
          decided.begin(), decided.end(), [&](std::size_t c) { return has(findings_.clusters[c].readings); });
      ASSERT_EQ(after.standing[i] == Standing::unknown_point, has(built.no_longer_judged))
          << text << rows_[i].id << " " << rows_[i].conditions;
      ASSERT_FALSE(has(built.no_longer_judged) && rows_[i].conditions.empty()) << text << rows_[i].id;
      if (has(built.to_withdraw)) continue;
      const bool disagreed = comparison_.standing[i] == Standing::disagrees;
      if (disagreed && !was_decided) continue;
      ASSERT_NE(after.standing[i], Standing::disagrees)
          << text << rows_[i].id << " " << rows_[i].from << " " << rows_[i].to << " " << rows_[i].value << " "
          << rows_[i].conditions;
    }
  }

  const Netlist& net_;
  const ConductionGraph& graph_;
  std::vector<OwnRow> rows_;
  Readings readings_;
  Counts& counts_;
  Comparison comparison_;
  Findings findings_;
  testing_support::ScopedTempFolder folder_;
};

TEST(AsBuilt, LeavesNothingOfWhatWasDecided) {
  const unsigned seed = test_seed();
  Counts counts;
  for (unsigned round = 0; round < 45; ++round) {
    const unsigned panel_seed = 1000 * seed + round;
    const std::string text = random_panel(panel_seed);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    Wireman wireman(graph, panel_seed);
    wireman.build_wrongly(1 + round % 3);
    Guarantee(net, graph, wireman.read(30), counts).check();
    if (HasFatalFailure()) FAIL() << "panel " << panel_seed << "\n" << text;
  }
  std::printf(
      "%zu findings, %zu drawings, %zu of them as files too, %zu that can't be drawn, %zu panels decided as "
      "a "
      "whole; %zu readings lift or operate what has moved or is gone; %zu equivalents parted by lifting\n",
      counts.clusters, counts.drawn, counts.written, counts.undrawable, counts.whole, counts.not_judged,
      counts.parted_by_lifting);
  EXPECT_GT(counts.written, 40u);
  EXPECT_GT(counts.whole, 15u);
}

}  // namespace
}  // namespace ringtrue::testing
