// Plans that identify, once some of their readings were taken: what they leave out, by the certificate, which
// certificate_test.cpp holds against simulation.
#include <gtest/gtest.h>

#include <cstdio>
#include <set>
#include <tuple>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/diagnose/certificate.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/plan/plan.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/random_netlist.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

PlanOptions identifying() {
  PlanOptions options;
  options.goal = Goal::identify;
  return options;
}

/// The plan with every `step`th of its readings, from the first.
Plan part_of(Plan plan, std::size_t step) {
  std::size_t kept = 0;
  for (std::size_t i = 0; i < plan.readings.size(); i += step) plan.readings[kept++] = plan.readings[i];
  plan.readings.resize(kept);
  return plan;
}

/// Mistakes of a hand that the readings neither reveal nor can't reveal.
std::size_t left_out_of(const ConductionGraph& graph, const TakenAndPlanned& all) {
  const Comparison comparison = compare(graph, all.readings, {}).value();
  std::size_t left_out = 0;
  CertifyOptions options;
  options.planned_from = all.taken;
  options.each = [&](const CertifiedFault& one) {
    const FaultKind kind = one.fault.kind;
    const bool is_of_a_hand = kind == FaultKind::miswire || kind == FaultKind::swap ||
                              kind == FaultKind::shift || kind == FaultKind::extra_bridge;
    left_out += is_of_a_hand && one.fate == Fate::left_out ? 1 : 0;
  };
  (void)certify(graph, all.readings, comparison, options);
  return left_out;
}

TEST(PlanIdentify, WhatTheReadingsTakenAndTheRestLeaveOutIsNoMistakeOfAHand) {
  const unsigned base = test_seed() * 100'000;
  std::size_t whole = 0, rests = 0, taken_alone = 0;
  for (unsigned seed = base; seed < base + 150; ++seed) {
    const std::string text = random_small_panel(seed);
    const Netlist net = netlist(text);
    const ConductionGraph graph(net);
    const Plan plan = make_plan(graph, identifying());
    const std::size_t step = 1 + seed % 3;
    SCOPED_TRACE("seed " + std::to_string(seed) + ", each " + std::to_string(step) + ". taken\n" + text);
    const Readings taken = as_readings(part_of(plan, step), graph);
    const Comparison comparison = compare(graph, taken, {}).value();
    const Findings findings = diagnose(graph, taken, comparison);
    const Done done = {&taken, &comparison, &findings.proven};
    const Plan rest = make_plan(graph, identifying(), done);

    EXPECT_EQ(left_out_of(graph, taken_and_planned(done, rest, graph)), 0u);
    std::set<std::tuple<std::string, PointId, PointId, Expected>> known;
    for (const PlannedReading& reading : part_of(plan, step).readings)
      known.emplace(plan.conditions[reading.condition].text, reading.from, reading.to, reading.expected);
    for (const PlannedReading& reading : rest.readings) {
      const std::string& condition = rest.conditions[reading.condition].text;
      const bool is_new = known.emplace(condition, reading.from, reading.to, reading.expected).second;
      EXPECT_TRUE(is_new) << net.points.name(reading.from) << " to " << net.points.name(reading.to)
                          << " under '" << condition << "' is asked for again";
    }
    if (step > 1) {
      whole += plan.readings.size(), rests += rest.readings.size();
      taken_alone += left_out_of(graph, {taken, taken.rows.size()});
    }
    if (HasFailure()) return;
  }
  std::printf("%zu readings planned, %zu once some were taken\n", whole, rests);
  EXPECT_LT(rests, whole * 2 / 3);
  EXPECT_GT(taken_alone, 1000u) << "the rest was for nothing";
}

}  // namespace
}  // namespace ringtrue::testing
