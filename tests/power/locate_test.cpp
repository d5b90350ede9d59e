#include "ringtrue/power/locate.hpp"

#include <gtest/gtest.h>

#include <bit>
#include <functional>
#include <random>

#include "tests/support/netlist_text.hpp"

namespace ringtrue {
namespace {

using namespace testing;

/// A loop of so many segments, its points numbered in order; the elements don't matter.
InputLoop loop_of(std::size_t segments) {
  InputLoop loop;
  loop.volts = 24;
  for (std::uint32_t i = 0; i < segments; ++i)
    loop.segments.push_back({SegmentKind::element, ElementId{i}, PointId{i}, PointId{i + 1}});
  return loop;
}

LoopEvidence evidence_of(std::vector<double> weights) {
  LoopEvidence evidence;
  evidence.is_proven.assign(weights.size(), 0);
  evidence.weights = std::move(weights);
  return evidence;
}

/// Voltages after that of the supply until the segment that is broken is named.
std::size_t voltages_for(std::size_t broken, const InputLoop& loop, const LoopEvidence& evidence,
                         SplitBy by) {
  std::vector<LoopVolts> measured;
  Located found = locate(loop, measured, evidence, by);
  while (found.next && measured.size() <= loop.segments.size()) {
    measured.push_back({*found.next, index(*found.next) <= broken ? 23.8 : 0.1});
    found = locate(loop, measured, evidence, by);
  }
  EXPECT_EQ(found.suspects, std::vector<std::size_t>{broken});
  return measured.size() - 1;
}

struct Needed {
  std::size_t at_most = 0;
  double on_average = 0;
};
Needed needed(const InputLoop& loop, const LoopEvidence& evidence, SplitBy by) {
  Needed all;
  double sum = 0;
  for (std::size_t broken = 0; broken < loop.segments.size(); ++broken) {
    if (evidence.is_proven[broken] != 0) continue;
    const std::size_t voltages = voltages_for(broken, loop, evidence, by);
    all.at_most = std::max(all.at_most, voltages);
    all.on_average += evidence.weights[broken] * static_cast<double>(voltages);
    sum += evidence.weights[broken];
  }
  all.on_average /= sum;
  return all;
}

/// Of all orders of measuring the smallest sum of weight times voltages.
double least_cost(std::span<const double> weights) {
  if (weights.size() < 2) return 0;
  double sum = 0, best = 1e300;
  for (const double weight : weights) sum += weight;
  for (std::size_t at = 1; at < weights.size(); ++at)
    best = std::min(best, least_cost(weights.first(at)) + least_cost(weights.subspan(at)));
  return sum + best;
}

TEST(Locate, SplitByCountNeedsTheLogarithmAtMost) {
  for (std::size_t n = 1; n <= 40; ++n) {
    const InputLoop loop = loop_of(n);
    const LoopEvidence evidence = evidence_of(std::vector<double>(n, 1e-3));
    const std::size_t log = n == 1 ? 0 : static_cast<std::size_t>(std::bit_width(n - 1));
    EXPECT_EQ(needed(loop, evidence, SplitBy::count).at_most, log) << n;
    EXPECT_EQ(locate(loop, {}, evidence).left.at_most, log + 1) << "with that of the supply: " << n;
  }
}

TEST(Locate, SplitByPriorsNeedsTheFewestOnAverage) {
  std::mt19937 random(7);
  for (std::size_t round = 0; round < 200; ++round) {
    const std::size_t n = 2 + random() % 9;
    std::vector<double> weights(n);
    constexpr double k_sorts[] = {1e-4, 2e-4, 1e-3, 2e-3, 0.3, 1};
    for (double& weight : weights) weight = k_sorts[random() % std::size(k_sorts)];
    const InputLoop loop = loop_of(n);
    const LoopEvidence evidence = evidence_of(weights);
    const Needed by_priors = needed(loop, evidence, SplitBy::priors),
                 by_count = needed(loop, evidence, SplitBy::count);
    double sum = 0;
    for (const double weight : weights) sum += weight;
    EXPECT_NEAR(by_priors.on_average, least_cost(weights) / sum, 1e-9);
    EXPECT_LE(by_priors.on_average, by_count.on_average + 1e-9);
    const Located first = locate(loop, {}, evidence, SplitBy::priors);
    EXPECT_EQ(first.left.at_most, by_priors.at_most + 1);
    EXPECT_NEAR(first.left.on_average, by_priors.on_average + 1, 1e-9);
    EXPECT_EQ(first.left_by_count.at_most, by_count.at_most + 1);
    EXPECT_NEAR(first.left_by_count.on_average, by_count.on_average + 1, 1e-9);
  }
}

TEST(Locate, ALikelyFuseIsPartedOffFirst) {
  const InputLoop loop = loop_of(8);
  const LoopEvidence evidence = evidence_of({1, 1, 1, 1, 1, 1, 100, 1});
  const LoopVolts supply{loop.plus(), 24};
  EXPECT_EQ(index(*locate(loop, {{supply}}, evidence, SplitBy::count).next), 4u);
  EXPECT_EQ(index(*locate(loop, {{supply}}, evidence, SplitBy::priors).next), 6u);
}

TEST(Locate, WhatReadingsProveIsNoSuspect) {
  const InputLoop loop = loop_of(8);
  LoopEvidence evidence = evidence_of(std::vector<double>(8, 1));
  evidence.is_proven = {1, 1, 0, 1, 1, 0, 1, 1};
  const Located found = locate(loop, {{{loop.plus(), 24.0}}}, evidence);
  EXPECT_EQ(found.suspects, (std::vector<std::size_t>{2, 5}));
  EXPECT_EQ(found.left.at_most, 1u);
  EXPECT_EQ(needed(loop, evidence, SplitBy::count).at_most, 1u);
}

TEST(Locate, TheSupplyIsCheckedFirst) {
  const InputLoop loop = loop_of(6);
  const LoopEvidence evidence = evidence_of(std::vector<double>(6, 1));
  EXPECT_EQ(locate(loop, {}, evidence).next, loop.plus());
  EXPECT_EQ(locate(loop, {{{PointId{3}, 24.0}}}, evidence).next, loop.plus());
  const Located none = locate(loop, {{{loop.plus(), 0.2}}}, evidence);
  EXPECT_TRUE(none.is_supply_missing);
  EXPECT_FALSE(none.next);
}

TEST(Locate, APointWithNeitherVoltagePartsNothing) {
  const InputLoop loop = loop_of(4);
  const LoopEvidence evidence = evidence_of(std::vector<double>(4, 1));
  const LoopVolts supply{loop.plus(), 24};
  for (const double volts : {12.0, -24.0, 230.0}) {
    const Located found = locate(loop, {{supply, {PointId{2}, volts}}}, evidence);
    EXPECT_EQ(found.unclear, std::vector<PointId>{PointId{2}}) << volts;
    EXPECT_NE(found.next, PointId{2}) << volts;
    EXPECT_EQ(found.suspects.size(), 4u) << volts;
  }
  const Located stuck =
      locate(loop, {{supply, {PointId{1}, 24}, {PointId{2}, 12}, {PointId{3}, 0}}}, evidence);
  EXPECT_EQ(stuck.suspects, (std::vector<std::size_t>{1, 2}));
  EXPECT_FALSE(stuck.next) << "what lies around it stays together";
}

TEST(Locate, AVoltageBehindAPointWithoutContradicts) {
  const InputLoop loop = loop_of(6);
  const LoopEvidence evidence = evidence_of(std::vector<double>(6, 1));
  EXPECT_TRUE(locate(loop, {{{PointId{2}, 0.0}, {PointId{4}, 24.0}}}, evidence).is_contradictory);
  EXPECT_TRUE(locate(loop, {{{PointId{0}, 0.0}, {PointId{4}, 24.0}}}, evidence).is_contradictory);
  EXPECT_FALSE(locate(loop, {{{PointId{2}, 24.0}, {PointId{4}, 0.0}}}, evidence).is_contradictory);
}

TEST(Locate, WeightsAreThePriorsOfItsKindOrTheFindingThatNamesIt) {
  const Netlist net = netlist(
      "part G1 supply 1 2\npart X1:1 fuse int ext\n1 G1:1 X1:1.int\n2 X1:1.ext X2:1.int\n- X2:1.int X2:2.int "
      "bridge\n"
      "3 X2:3.int A1:0\n4 A1:M G1:2\nchannel A1:0 DI X2:3.ext X2:2.ext A1:M\n"
      "potential +24V dc+ G1:1 24\npotential 0V dc- G1:2 0\n");
  const ConductionGraph graph(net);
  const InputLoop loop = input_loop(graph, 0).value();
  Priors priors;
  Findings findings;
  const auto weights = [&] { return loop_evidence(loop, graph, findings, priors).weights; };
  const double wire = priors.open_conductor, part = priors.open_element;
  const std::vector<double> expected{
      wire, priors.blown_fuse, wire, priors.missing_bridge, part, part, part, wire, part, wire};
  EXPECT_EQ(weights(), expected);

  Diagnosis diagnosis;
  diagnosis.faults.resize(1);
  diagnosis.faults[0].element = loop.segments[2].element;
  diagnosis.probability = 0.7;
  findings.clusters.resize(1);
  findings.clusters[0].diagnoses = {diagnosis};
  EXPECT_EQ(weights()[2], 0.7);
  EXPECT_EQ(weights()[1], priors.blown_fuse);
}

}  // namespace
}  // namespace ringtrue
