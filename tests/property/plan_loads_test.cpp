// Plans for panels with coils, lamps, diodes, supplies and modules beside the copper: what each reading shows
// as drawn, and with each element broken that it is said to prove, by tests/support/oracle_wiring.hpp.
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <map>
#include <set>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/plan/plan.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_meter.hpp"
#include "tests/support/oracle_wiring.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

struct Counts {
  std::size_t beeps = 0, opens = 0, values = 0, proofs = 0, under_a_condition = 0, one_way_only = 0,
              not_covered = 0, loads_in_the_way = 0;
};

/// A panel and its plan, beside the oracle.
class PlannedPanel {
 public:
  PlannedPanel(std::string text, const PlanOptions& options)
      : text_(std::move(text)),
        options_(options),
        net_(netlist(text_)),
        graph_(net_),
        plan_(make_plan(graph_, options)),
        drawn_(net_) {
    for (const PlanCondition& condition : plan_.conditions)
      conditions_.emplace_back(condition.text, condition.made, net_);
    for (const OracleCondition& condition : conditions_) readings_.emplace_back(drawn_, condition);
  }

  [[nodiscard]] const std::string& text() const { return text_; }

  /// A reading that doesn't say that polarity matters means the same with the leads exchanged.
  void check_leads_exchanged(Counts& counts) const {
    for (const PlannedReading& reading : plan_.readings) {
      SCOPED_TRACE(words_of(reading));
      const std::uint32_t red = index(reading.from), black = index(reading.to);
      const bool is_same = reading.expected == Expected::beep
                               ? is_sound(reading, black, red)
                               : reading.expected == Expected::ohms ||
                                     !readings_[reading.condition].can_beep(black, red, limit());
      EXPECT_TRUE(reading.polarity_matters || is_same);
      EXPECT_TRUE(graph_.has_diodes() || !reading.polarity_matters);
      ++counts.beeps, counts.one_way_only += reading.polarity_matters ? 1 : 0;
    }
  }

  void check(Counts& counts) const {
    for (const PlannedReading& reading : plan_.readings) check(reading, counts);
    check_targets();
    check_that_others_are_not_covered(counts);
    check_that_all_agree();
  }

 private:
  [[nodiscard]] double limit() const { return beep_limit(options_.meter).value; }

  [[nodiscard]] OracleReadings broken(ElementId e, std::uint32_t condition) const {
    OracleWiring wiring = drawn_;
    wiring.break_element(e);
    return {wiring, conditions_[condition]};
  }

  [[nodiscard]] std::string words_of(const PlannedReading& reading) const {
    const PlanCondition& condition = plan_.conditions[reading.condition];
    return point_name(reading.from, condition.made, graph_) + " to " +
           point_name(reading.to, condition.made, graph_) + " " + std::string(word(reading.expected)) + " " +
           condition.text;
  }

  void check(const PlannedReading& reading, Counts& counts) const {
    const std::uint32_t red = index(reading.from), black = index(reading.to);
    SCOPED_TRACE(words_of(reading));
    ASSERT_LT(std::max(red, black), readings_[reading.condition].points());
    counts.under_a_condition += reading.condition != 0 ? 1 : 0;
    counts.proofs += reading.proves.size();
    switch (reading.expected) {
      case Expected::beep:
        ++counts.beeps;
        return check_beep(reading, counts);
      case Expected::open:
        ++counts.opens;
        EXPECT_FALSE(readings_[reading.condition].can_beep(red, black, limit()));
        return;
      case Expected::ohms:
        ++counts.values;
        return check_value(reading);
    }
  }

  /// It beeps as drawn, and none of the breaks leaves it beeping, whatever the loads are.
  [[nodiscard]] bool is_sound(const PlannedReading& reading, std::uint32_t red, std::uint32_t black) const {
    if (readings_[reading.condition].can_be_silent(red, black, limit())) return false;
    return std::none_of(reading.proves.begin(), reading.proves.end(), [&](ElementId e) {
      return broken(e, reading.condition).can_beep(red, black, limit());
    });
  }
  void check_beep(const PlannedReading& reading, Counts& counts) const {
    const std::uint32_t red = index(reading.from), black = index(reading.to);
    EXPECT_TRUE(is_sound(reading, red, black));
    counts.one_way_only += reading.polarity_matters ? 1 : 0;
  }

  [[nodiscard]] OhmInterval shown(const OracleReadings& panel, const PlannedReading& reading) const {
    const double lowest = panel.lowest(index(reading.from), index(reading.to));
    const double highest = panel.highest(index(reading.from), index(reading.to));
    return shown_ohms({Ohms{lowest}, Ohms{highest}}, options_.meter);
  }
  void check_value(const PlannedReading& reading) const {
    const OhmInterval drawn = shown(readings_[reading.condition], reading);
    EXPECT_LE(reading.ohms.lo.value, drawn.lo.value * (1 + 1e-6) + 1e-6);
    EXPECT_GE(reading.ohms.hi.value, drawn.hi.value * (1 - 1e-6) - 1e-6);
    for (const ElementId e : reading.proves) {
      const OhmInterval without = shown(broken(e, reading.condition), reading);
      EXPECT_GT(without.lo.value, reading.ohms.hi.value) << graph_.element_name(e);
    }
  }

  /// Copper that conducts at rest; with `all_elements` also contacts that something closes, and loads.
  [[nodiscard]] std::set<ElementId> targets() const {
    std::set<ElementId> wanted;
    for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
      const OracleWiring::Item& item = drawn_.items()[i];
      const bool at_rest = drawn_.conducts(ElementId{i}, {}) && !item.is_load;
      if (at_rest || (options_.all_elements && item.is_present)) wanted.insert(ElementId{i});
    }
    return wanted;
  }
  /// Each is proven once or not covered.
  void check_targets() const {
    std::set<ElementId> found;
    for (const PlannedReading& reading : plan_.readings)
      for (const ElementId e : reading.proves) EXPECT_TRUE(found.insert(e).second) << graph_.element_name(e);
    for (const NotCovered& one : plan_.not_covered)
      EXPECT_TRUE(found.insert(one.element).second) << graph_.element_name(one.element);
    for (const ElementId e : targets()) EXPECT_EQ(found.erase(e), 1u) << graph_.element_name(e);
    for (const ElementId e : found) ADD_FAILURE() << "no target: " << graph_.element_name(e);
    EXPECT_EQ(plan_.targets, targets().size());
  }

  /// No reading at rest from its one end to the other proves copper that the plan leaves out.
  void check_that_others_are_not_covered(Counts& counts) const {
    for (const NotCovered& one : plan_.not_covered) {
      ++counts.not_covered;
      counts.loads_in_the_way += one.why == WhyNotCovered::load_may_beep ? 1 : 0;
      const OracleWiring::Item& item = drawn_.items()[index(one.element)];
      if (item.is_load) continue;
      const OracleReadings without = broken(one.element, 0);
      for (const auto& [red, black] : {std::pair(item.a, item.b), std::pair(item.b, item.a)})
        EXPECT_TRUE(without.can_beep(red, black, limit()) || readings_[0].can_be_silent(red, black, limit()))
            << graph_.element_name(one.element) << " (" << word(one.why) << ") is shown by "
            << net_.points.name(PointId{red}) << " to " << net_.points.name(PointId{black});
    }
  }

  void check_that_all_agree() const {
    const Readings readings = as_readings(plan_, graph_);
    ASSERT_EQ(readings.rows.size(), plan_.readings.size());
    const Comparison comparison = compare(graph_, readings, {}, {}, options_.meter).value();
    for (std::size_t i = 0; i < readings.rows.size(); ++i)
      // Where nothing limits the ohms, the least that may be shown beeps, and more wouldn't.
      if (plan_.readings[i].expected != Expected::ohms || plan_.readings[i].ohms.hi < k_infinite_ohms)
        EXPECT_EQ(word(comparison.standing[i]), word(Standing::agrees))
            << readings.rows[i].from << " " << readings.rows[i].to;
      else
        EXPECT_EQ(word(comparison.standing[i]), word(Standing::either));
  }

  std::string text_;
  PlanOptions options_;
  Netlist net_;
  ConductionGraph graph_;
  Plan plan_;
  OracleWiring drawn_;
  std::vector<OracleCondition> conditions_;
  std::vector<OracleReadings> readings_;
};

Counts check_panels(unsigned first, unsigned panels, PlanOptions options) {
  Counts counts;
  for (unsigned seed = first; seed < first + panels; ++seed) {
    options.meter.threshold = Ohms{seed % 4 == 0 ? 50.0 : 30.0};
    options.lifts = seed % 5 != 0;
    const PlannedPanel planned(seed % 2 == 0 ? random_panel_with_loads(seed) : random_small_panel(seed),
                               options);
    SCOPED_TRACE("seed " + std::to_string(seed) + "\n" + planned.text());
    planned.check(counts);
    if (::testing::Test::HasFailure()) break;
  }
  std::printf(
      "%zu beeps (%zu of them one way only), %zu opens, %zu values; %zu proofs, %zu readings under a "
      "condition; %zu elements not covered, %zu for a load\n",
      counts.beeps, counts.one_way_only, counts.opens, counts.values, counts.proofs, counts.under_a_condition,
      counts.not_covered, counts.loads_in_the_way);
  return counts;
}

TEST(PlanBesideLoads, EachBreakSilencesItsReadingWhateverTheLoadsAre) {
  const Counts counts = check_panels(test_seed() * 100'000, 400, {});
  EXPECT_GT(counts.beeps, 1500u);
  EXPECT_GT(counts.proofs, 4000u);
  EXPECT_GT(counts.under_a_condition, 200u);
}

TEST(PlanBesideLoads, LeadsMayBeExchangedWhereItIsNotSaidThatTheyMatter) {
  const unsigned base = test_seed() * 100'000;
  Counts counts;
  for (unsigned seed = base; seed < base + 400; ++seed) {
    const PlannedPanel planned(random_panel_with_loads(seed), {});
    SCOPED_TRACE("seed " + std::to_string(seed) + "\n" + planned.text());
    planned.check_leads_exchanged(counts);
    if (HasFailure()) return;
  }
  std::printf("%zu readings, %zu of them one way only\n", counts.beeps, counts.one_way_only);
  EXPECT_GT(counts.one_way_only, 20u);
}

TEST(PlanBesideLoads, ContactsAndLoadsAreShownByTheirReadings) {
  PlanOptions options;
  options.all_elements = true;
  const Counts counts = check_panels(test_seed() * 100'000 + 1000, 300, options);
  EXPECT_GT(counts.values, 50u);
  EXPECT_GT(counts.proofs, 4000u);
}

TEST(PlanBesideLoads, ReadingsThatIdentifyComeOutAsDrawn) {
  PlanOptions options;
  options.goal = Goal::identify;
  const Counts counts = check_panels(test_seed() * 100'000 + 2000, 150, options);
  EXPECT_GT(counts.opens, 500u);
}

}  // namespace
}  // namespace ringtrue::testing
