// Plans for copper alone against brute force: every pair of points, every break and every set of lifted ends
// is tried on a plain list of edges (tests/support/plain_copper.hpp), which shares nothing with the planner.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <optional>
#include <random>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/plan/plan.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_condition.hpp"
#include "tests/support/plain_copper.hpp"
#include "tests/support/random_copper.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue::testing {
namespace {

/// A netlist of copper, its graph and its plan.
struct Planned {
  explicit Planned(std::string written, const PlanOptions& options = {})
      : text(std::move(written)),
        net(netlist(text)),
        graph(net),
        copper(net),
        plan(make_plan(graph, options)) {}

  std::string text;
  Netlist net;
  ConductionGraph graph;
  PlainCopper copper;
  Plan plan;
};

std::vector<PlainEnd> lifted_in(const Planned& planned, std::uint32_t condition) {
  std::vector<PlainEnd> ends;
  for (const ConditionOverlay::LiftedEnd& lifted : planned.plan.conditions.at(condition).made.lifted) {
    EXPECT_EQ(index(lifted.loose), planned.graph.point_count() + ends.size());
    ends.push_back({index(lifted.conductor), lifted.end == End::a});
  }
  return ends;
}

PlainSetting setting_of(const Planned& planned, std::uint32_t condition) {
  const PlanCondition& made = planned.plan.conditions.at(condition);
  const OracleCondition stated(made.text, made.made, planned.net);
  PlainSetting setting{lifted_in(planned, condition)};
  for (std::size_t row = 0; row < planned.net.parts.size(); ++row)
    if (stated.takes_out(std::string(planned.net.parts[row].part)))
      setting.out |= 1u << (planned.net.conductors.size() + row);
  return setting;
}

/// By element: whether its break silences the reading; the reading has to beep as drawn.
std::vector<bool> silenced_by(const Planned& planned, const PlannedReading& reading) {
  const PlainSetting setting = setting_of(planned, reading.condition);
  const auto beeps = [&](std::uint32_t broken) {
    const std::vector<std::uint32_t> label = planned.copper.labels(setting, broken);
    return label.at(index(reading.from)) == label.at(index(reading.to));
  };
  EXPECT_TRUE(beeps(PlainCopper::k_nothing));
  EXPECT_EQ(reading.expected, Expected::beep);
  std::vector<bool> silenced;
  for (std::uint32_t e = 0; e < planned.copper.count(); ++e) silenced.push_back(!beeps(e));
  return silenced;
}

/// Each reading proves what it says and no earlier reading proves, and all of that. Gives what all prove.
std::uint32_t check_proofs(const Planned& planned, std::uint32_t targets) {
  std::uint32_t proven = 0;
  for (const PlannedReading& reading : planned.plan.readings) {
    const std::vector<bool> silenced = silenced_by(planned, reading);
    std::uint32_t expected = 0, stated = 0;
    for (std::uint32_t e = 0; e < silenced.size(); ++e)
      if (silenced[e]) expected |= 1u << e;
    expected &= targets & ~proven;
    for (const ElementId e : reading.proves) stated |= 1u << index(e);
    EXPECT_EQ(stated, expected) << planned.plan.conditions[reading.condition].text;
    proven |= stated;
  }
  return proven;
}

std::uint32_t bits_of_not_covered(const Plan& plan) {
  std::uint32_t bits = 0;
  for (const NotCovered& one : plan.not_covered) bits |= 1u << index(one.element);
  return bits;
}

std::uint32_t all_bits(std::uint32_t count) { return (1u << count) - 1; }

std::uint32_t bits_without_bodies(const Planned& planned) {
  std::uint32_t bits = all_bits(planned.copper.count());
  for (std::uint32_t e = 0; e < planned.copper.count(); ++e)
    if (planned.graph.kind(ElementId{e}) == ElementKind::body) bits &= ~(1u << e);
  return bits;
}

TEST(PlanDetect, TreesTakeHalfAsManyReadingsAsTheyHaveEnds) {
  const unsigned base = test_seed() * 100'000;
  std::size_t nets = 0, readings = 0, odd = 0;
  for (unsigned seed = 0; seed < 500; ++seed) {
    const Planned planned(random_trees(base + seed));
    SCOPED_TRACE("seed " + std::to_string(base + seed) + "\n" + planned.text);
    const std::vector<std::uint32_t> label = planned.copper.labels();
    std::map<std::uint32_t, std::size_t> taken;
    std::vector<int> times_proven(planned.copper.count(), 0);
    for (const PlannedReading& reading : planned.plan.readings) {
      ++taken[label.at(index(reading.from))];
      EXPECT_EQ(reading.condition, 0u);
      const std::vector<bool> silenced = silenced_by(planned, reading);
      for (const ElementId e : reading.proves) {
        ++times_proven.at(index(e));
        EXPECT_TRUE(silenced.at(index(e))) << planned.graph.element_name(e);
      }
    }
    EXPECT_EQ(times_proven, std::vector<int>(planned.copper.count(), 1));
    for (const auto& [net, leaves] : planned.copper.leaves_by_net()) {
      EXPECT_EQ(taken[net], (leaves + 1) / 2) << planned.net.points.name(PointId{net});
      ++nets, odd += leaves % 2, readings += taken[net];
    }
    EXPECT_EQ(planned.plan.readings.size(), planned.plan.at_rest);
    EXPECT_EQ(planned.plan.least_at_rest, planned.plan.at_rest);
    EXPECT_EQ(planned.plan.targets, planned.copper.count());
    EXPECT_EQ(planned.plan.lifts, 0u);
    EXPECT_TRUE(planned.plan.not_covered.empty());
    if (HasFailure()) return;
  }
  std::printf("%zu trees, %zu with an odd number of ends; %zu readings\n", nets, odd, readings);
  EXPECT_GT(odd, 200u);
}

/// The elements are a walk from one end of the one in question to its other end and don't hold it.
bool lead_past(const PlainCopper& copper, std::uint32_t element, const std::vector<ElementId>& way) {
  const PlainCopper::Edge& past = copper.edges()[element];
  const auto leads = [&](std::uint32_t at, std::uint32_t to) {
    for (const ElementId e : way) {
      const PlainCopper::Edge& edge = copper.edges().at(index(e));
      if (index(e) == element || (edge.a != at && edge.b != at)) return false;
      at = edge.a == at ? edge.b : edge.a;
    }
    return at == to;
  };
  return leads(past.a, past.b) || leads(past.b, past.a);
}

/// With all wires away, something else still joins its ends.
bool is_beside_bridges(const PlainCopper& copper, std::uint32_t element) {
  std::set<std::uint32_t> reached = {copper.edges()[element].a};
  for (std::size_t before = 0; before != reached.size();) {
    before = reached.size();
    for (std::uint32_t e = 0; e < copper.count(); ++e) {
      const PlainCopper::Edge& edge = copper.edges()[e];
      if (e == element || edge.can_be_lifted) continue;
      if (reached.count(edge.a) != 0) reached.insert(edge.b);
      if (reached.count(edge.b) != 0) reached.insert(edge.a);
    }
  }
  return reached.count(copper.edges()[element].b) != 0;
}

TEST(PlanDetect, WithoutLiftsNoFewerReadingsRevealAllThatAnyPairReveals) {
  const unsigned base = test_seed() * 100'000;
  std::size_t readings = 0;
  for (unsigned seed = 0; seed < 5000; ++seed) {
    PlanOptions options;
    options.lifts = false;
    options.bodies = seed % 3 != 0;
    const Planned planned(random_copper(base + seed), options);
    SCOPED_TRACE("seed " + std::to_string(base + seed) + (options.bodies ? "\n" : ", bodies sound\n") +
                 planned.text);
    const std::uint32_t targets =
        options.bodies ? all_bits(planned.copper.count()) : bits_without_bodies(planned);
    std::set<std::uint32_t> by_pair;
    for (const std::uint32_t bits : planned.copper.revealed_by_pairs()) by_pair.insert(bits & targets);
    const std::uint32_t can_be_revealed = union_of(by_pair);
    EXPECT_EQ(check_proofs(planned, targets), can_be_revealed);
    EXPECT_EQ(planned.plan.readings.size(), fewest_that_cover(can_be_revealed, by_pair));
    EXPECT_EQ(bits_of_not_covered(planned.plan), targets & ~can_be_revealed);
    EXPECT_EQ(planned.plan.lifts, 0u);
    readings += planned.plan.readings.size();
    if (HasFailure()) return;
  }
  std::printf("%zu readings\n", readings);
  EXPECT_GT(readings, 2000u);
}

TEST(PlanDetect, WhatIsNotCoveredHasAWayPastAndSaysWhetherALiftWouldHelp) {
  const unsigned base = test_seed() * 100'000;
  std::size_t not_covered = 0, needs_lift = 0;
  for (unsigned seed = 0; seed < 5000; ++seed) {
    PlanOptions options;
    options.lifts = seed % 4 == 0;
    const Planned planned(random_copper(base + seed), options);
    SCOPED_TRACE("seed " + std::to_string(base + seed) + (options.lifts ? "\n" : ", no lifts\n") +
                 planned.text);
    for (const NotCovered& one : planned.plan.not_covered) {
      const std::uint32_t e = index(one.element);
      EXPECT_TRUE(lead_past(planned.copper, e, one.witness)) << planned.graph.element_name(one.element);
      const bool lift_helps =
          planned.copper.edges()[e].can_be_lifted || !is_beside_bridges(planned.copper, e);
      EXPECT_TRUE(!options.lifts || !lift_helps);
      EXPECT_EQ(word(one.why), word(lift_helps ? WhyNotCovered::needs_lift : WhyNotCovered::parallel))
          << planned.graph.element_name(one.element);
      ++not_covered, needs_lift += lift_helps ? 1 : 0;
    }
    if (HasFailure()) return;
  }
  std::printf("%zu elements not covered, %zu of them for want of a lift\n", not_covered, needs_lift);
  EXPECT_GT(needs_lift, 500u);
  EXPECT_GT(not_covered - needs_lift, 50u);
}

/// The fewest ends to lift, and then the fewest readings, by trying every set of ends and, with it, every
/// condition that lifts some of them and takes some fuses out.
class EveryLift {
 public:
  /// `rings`: of the copper. Once one wire of each ring is lifted, nothing is in a ring that a lift opens.
  EveryLift(const PlainCopper& copper, std::size_t rings) : copper_(copper) {
    for (std::uint32_t e = 0; e < copper.count(); ++e) {
      if (copper.edges()[e].can_be_opened) fuses_ |= 1u << e;
      if (copper.edges()[e].can_be_lifted)
        for (const bool is_from : {true, false}) ends_.push_back({e, is_from});
    }
    search(rings);
  }

  std::uint32_t revealed = 0;  ///< by any lifts at all
  std::size_t lifts = 0, readings = 0;

 private:
  using Ends = std::vector<PlainEnd>;

  void search(std::size_t rings) {
    for (std::size_t count = 0; count <= rings; ++count)
      for (const Ends& set : sets_of(count)) revealed |= union_of(revealed_under(set));
    for (lifts = 0;; ++lifts) {
      std::optional<std::size_t> fewest;
      for (const Ends& set : sets_of(lifts)) {
        const std::set<std::uint32_t> can = revealed_with(set);
        if (union_of(can) != revealed) continue;
        const std::size_t needed = fewest_that_cover(revealed, can);
        fewest = fewest ? std::min(*fewest, needed) : needed;
      }
      if (!fewest) continue;
      readings = *fewest;
      return;
    }
  }

  [[nodiscard]] std::vector<Ends> sets_of(std::size_t count) const {
    std::vector<Ends> sets = {{}};
    for (; count > 0; --count) {
      std::vector<Ends> larger;
      for (const Ends& set : sets)
        for (const PlainEnd& end : ends_)
          if (set.empty() || set.back() < end) {
            larger.push_back(set);
            larger.back().push_back(end);
          }
      sets = std::move(larger);
    }
    return sets;
  }
  /// By a reading under a condition that lifts exactly these, and takes some fuses out.
  const std::set<std::uint32_t>& revealed_under(const Ends& lifted) {
    const auto [at, is_new] = known_.try_emplace(lifted);
    if (!is_new) return at->second;
    for (std::uint32_t out = fuses_;; out = (out - 1) & fuses_) {
      at->second.merge(copper_.revealed_by_pairs({lifted, out}));
      if (out == 0) return at->second;
    }
  }
  /// By a reading under any condition that lifts some or all of these.
  std::set<std::uint32_t> revealed_with(const Ends& set) {
    std::set<std::uint32_t> all;
    for (std::uint32_t some = 0; some < 1u << set.size(); ++some) {
      Ends lifted;
      for (std::size_t i = 0; i < set.size(); ++i)
        if ((some >> i & 1u) != 0) lifted.push_back(set[i]);
      const std::set<std::uint32_t>& more = revealed_under(lifted);
      all.insert(more.begin(), more.end());
    }
    return all;
  }

  const PlainCopper& copper_;
  std::uint32_t fuses_ = 0;
  Ends ends_;
  std::map<Ends, std::set<std::uint32_t>> known_;
};

/// Elements over what a forest would have.
std::size_t rings_in(const PlainCopper& copper) {
  const std::vector<std::uint32_t> label = copper.labels();
  const std::set<std::uint32_t> nets(label.begin(), label.end());
  return copper.count() + nets.size() - copper.points();
}

std::set<PlainEnd> all_lifted(const Planned& planned) {
  std::set<PlainEnd> ends;
  for (std::uint32_t c = 0; c < planned.plan.conditions.size(); ++c) {
    const std::size_t before = ends.size();
    for (const PlainEnd& end : lifted_in(planned, c)) {
      EXPECT_TRUE(planned.copper.edges()[end.conductor].can_be_lifted);
      ends.insert(end);
    }
    EXPECT_EQ(planned.plan.conditions[c].lifts, ends.size() - before);
  }
  return ends;
}

/// How many more readings the plan has than the fewest.
std::size_t check_against_every_lift(const Planned& planned, std::size_t most_more = 0) {
  const EveryLift best(planned.copper, rings_in(planned.copper));
  const std::uint32_t all = all_bits(planned.copper.count());
  EXPECT_EQ(check_proofs(planned, all), best.revealed);
  EXPECT_EQ(bits_of_not_covered(planned.plan), all & ~best.revealed);
  EXPECT_EQ(planned.plan.lifts, best.lifts);
  EXPECT_EQ(planned.plan.lifts, all_lifted(planned).size());
  EXPECT_LE(planned.plan.readings.size(), best.readings + most_more);
  EXPECT_GE(planned.plan.readings.size(), best.readings);
  return planned.plan.readings.size() - best.readings;
}

TEST(PlanDetect, LiftsAreTheFewestAndThenTheReadings) {
  const unsigned base = test_seed() * 100'000;
  std::size_t one = 0, two = 0, not_covered = 0;
  for (unsigned seed = 0; seed < 1000; ++seed) {
    const Planned planned(random_ring(base + seed, seed % 2 == 0 ? Ring::wires : Ring::bridges));
    SCOPED_TRACE("seed " + std::to_string(base + seed) + "\n" + planned.text);
    check_against_every_lift(planned);
    one += planned.plan.lifts == 1 ? 1 : 0, two += planned.plan.lifts == 2 ? 1 : 0;
    not_covered += planned.plan.not_covered.size();
    if (HasFailure()) return;
  }
  std::printf("one lift %zu times, two %zu times; %zu elements can't be covered\n", one, two, not_covered);
  EXPECT_GT(one, 300u);
  EXPECT_GT(two, 300u);
  EXPECT_GT(not_covered, 30u);
}

TEST(PlanDetect, LiftsAreTheFewestInCopperThrownAtRandom) {
  const unsigned base = test_seed() * 100'000;
  std::size_t tried = 0, lifts = 0;
  for (unsigned seed = 0; seed < 600; ++seed) {
    const Planned planned(random_copper(base + seed));
    if (rings_in(planned.copper) > 2) continue;
    SCOPED_TRACE("seed " + std::to_string(base + seed) + "\n" + planned.text);
    check_against_every_lift(planned);
    ++tried, lifts += planned.plan.lifts;
    if (HasFailure()) return;
  }
  std::printf("%zu netlists, %zu lifts\n", tried, lifts);
  EXPECT_GT(tried, 200u);
  EXPECT_GT(lifts, 150u);
}

TEST(PlanDetect, FusesAreTakenOutBeforeAnyEndIsLifted) {
  const unsigned base = test_seed() * 100'000;
  std::size_t lifts = 0, fuses_out = 0, more = 0;
  for (unsigned seed = 0; seed < 500; ++seed) {
    const Planned planned(random_ring(base + seed, Ring::fuses));
    SCOPED_TRACE("seed " + std::to_string(base + seed) + "\n" + planned.text);
    // What to pull one after the other is chosen by what shows most, which may take a reading or two more.
    more += check_against_every_lift(planned, 2);
    lifts += planned.plan.lifts;
    for (std::uint32_t c = 0; c < planned.plan.conditions.size(); ++c)
      fuses_out += setting_of(planned, c).out != 0 ? 1 : 0;
    if (HasFailure()) return;
  }
  std::printf("%zu lifts, %zu conditions with a fuse out; %zu readings more than the fewest in 500 plans\n",
              lifts, fuses_out, more);
  EXPECT_GT(lifts, 100u);
  EXPECT_GT(fuses_out, 100u);
}

/// Of more sets of ends than are tried. Wires alone are all proven once they form no ring, which takes as
/// many lifts as there are rings: wires - points + 1, and no fewer.
TEST(PlanDetect, NetsTooLargeToTryEverySetAreProvenWithAsManyLiftsAsTheyHaveRings) {
  std::mt19937 random(test_seed());
  for (int net = 0; net < 20; ++net) {
    constexpr int k_points = 26, k_chords = 4;
    auto wire = [number = 0](int from, int to) mutable {
      return std::to_string(++number) + " K" + std::to_string(from) + ":1 K" + std::to_string(to) + ":1\n";
    };
    std::string text;
    for (int i = 0; i < k_points; ++i) text += wire(i, (i + 1) % k_points);
    for (int i = 0; i < k_chords; ++i) text += wire(i, k_points / 2 + static_cast<int>(random() % 12u));
    SCOPED_TRACE(text);
    const Planned planned(text);
    EXPECT_EQ(planned.plan.lifts, 1u + k_chords);
    EXPECT_EQ(check_proofs(planned, all_bits(k_points + k_chords)), all_bits(k_points + k_chords));
    EXPECT_TRUE(planned.plan.not_covered.empty());
  }
}

TEST(PlanDetect, ManyFusesSideBySideAreEachProvenWithTheOthersOut) {
  std::string text;
  for (int i = 1; i <= 8; ++i) text += "part F" + std::to_string(i) + " fuse 1 2\n";
  for (int i = 1; i < 8; ++i)
    for (const int pin : {1, 2})
      text += std::to_string(10 * i + pin) + " F" + std::to_string(i) + ":" + std::to_string(pin) + " F" +
              std::to_string(i + 1) + ":" + std::to_string(pin) + "\n";
  const Planned planned(text);
  ASSERT_EQ(planned.copper.count(), 22u);
  EXPECT_EQ(planned.plan.lifts, 0u);
  EXPECT_EQ(check_proofs(planned, all_bits(22)), all_bits(22));
  EXPECT_TRUE(planned.plan.not_covered.empty());
}

/// The plan once its first readings were taken and came out as drawn.
Plan plan_after(const Planned& planned, std::size_t taken) {
  Plan first = planned.plan;
  first.readings.resize(taken);
  const Readings readings = as_readings(first, planned.graph);
  const Comparison comparison = compare(planned.graph, readings, {}).value();
  EXPECT_EQ(comparison.agree, taken);
  const Findings findings = diagnose(planned.graph, readings, comparison);
  return make_plan(planned.graph, {}, {&readings, &comparison, &findings.proven});
}

TEST(PlanDetect, ReadingsTakenAreNotAskedForAgain) {
  const unsigned base = test_seed() * 100'000;
  std::size_t plans = 0;
  for (unsigned seed = 0; seed < 600; ++seed) {
    const Planned planned(seed % 3 == 0   ? random_ring(base + seed, Ring::fuses)
                          : seed % 3 == 1 ? random_copper(base + seed)
                                          : random_trees(base + seed));
    SCOPED_TRACE("seed " + std::to_string(base + seed) + "\n" + planned.text);
    std::set<ElementId> not_covered, proven;
    for (const NotCovered& one : planned.plan.not_covered) not_covered.insert(one.element);
    for (std::size_t taken = 0; taken <= planned.plan.readings.size(); ++taken) {
      SCOPED_TRACE(std::to_string(taken) + " readings taken");
      if (taken > 0)
        for (const ElementId e : planned.plan.readings[taken - 1].proves) proven.insert(e);
      const Plan rest = plan_after(planned, taken);
      ++plans;
      const bool has_fuses = seed % 3 == 0;  // then the plan may have more than the fewest
      EXPECT_LE(rest.readings.size(), planned.plan.readings.size() - taken + (has_fuses ? 2 : 0));
      EXPECT_EQ(rest.targets, planned.plan.targets);
      EXPECT_EQ(rest.proven_before, proven.size());
      std::set<ElementId> accounted_for = proven;
      for (const PlannedReading& reading : rest.readings)
        for (const ElementId e : reading.proves)
          EXPECT_TRUE(accounted_for.insert(e).second) << planned.graph.element_name(e);
      for (const NotCovered& one : rest.not_covered) {
        EXPECT_EQ(not_covered.count(one.element), 1u) << planned.graph.element_name(one.element);
        EXPECT_TRUE(accounted_for.insert(one.element).second);
      }
      EXPECT_EQ(accounted_for.size(), planned.copper.count());
      if (HasFailure()) return;
    }
  }
  std::printf("%zu plans for the rest\n", plans);
  EXPECT_GT(plans, 1500u);
}

}  // namespace
}  // namespace ringtrue::testing
