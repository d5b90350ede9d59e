#include "ringtrue/expect/effective_resistance.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <random>

#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using Network = std::vector<Resistor>;

double ohms(const Network& network, std::uint32_t nodes, std::uint32_t from, std::uint32_t to) {
  const EffectiveResistance answer = effective_resistance(nodes, network, from, to);
  EXPECT_LE(answer.bounds.hi.value, answer.bounds.lo.value * (1 + k_solver_accuracy));
  return (answer.bounds.lo.value + answer.bounds.hi.value) / 2;
}

/// A connected network of `nodes` with `more` resistors beyond a tree.
Network random_network(std::mt19937& random, std::uint32_t nodes, std::uint32_t more, double least,
                       double most) {
  std::uniform_real_distribution<double> decades(std::log10(least), std::log10(most));
  Network network;
  for (std::uint32_t i = 1; i < nodes; ++i)
    network.push_back({i, static_cast<std::uint32_t>(random() % i), std::pow(10, decades(random))});
  while (more-- > 0) {
    const auto a = static_cast<std::uint32_t>(random() % nodes),
               b = static_cast<std::uint32_t>(random() % nodes);
    if (a != b) network.push_back({a, b, std::pow(10, decades(random))});
  }
  return network;
}

/// Kron reduction (star to mesh) of all nodes but two: products and sums of positive numbers only, so it
/// loses no digits however far the values are apart. Dense and slow, and nothing in common with the solver.
double by_star_mesh(const Network& network, std::uint32_t nodes, std::uint32_t from, std::uint32_t to) {
  std::vector<std::vector<long double>> siemens(nodes, std::vector<long double>(nodes, 0));
  for (const Resistor& r : network) siemens[r.a][r.b] += 1 / r.ohms, siemens[r.b][r.a] += 1 / r.ohms;
  for (std::uint32_t star = 0; star < nodes; ++star) {
    if (star == from || star == to) continue;
    long double sum = 0;
    for (std::uint32_t i = 0; i < nodes; ++i) sum += siemens[star][i];
    if (sum == 0) continue;
    for (std::uint32_t i = 0; i < nodes; ++i)
      for (std::uint32_t k = 0; k < nodes; ++k)
        if (i != k && i != star && k != star) siemens[i][k] += siemens[star][i] * siemens[star][k] / sum;
    for (std::uint32_t i = 0; i < nodes; ++i) siemens[star][i] = siemens[i][star] = 0;
  }
  return static_cast<double>(1 / siemens[from][to]);
}

TEST(EffectiveResistance, NothingBetween) {
  const EffectiveResistance open = effective_resistance(4, Network{{0, 1, 5}, {2, 3, 5}}, 0, 2);
  EXPECT_TRUE(open.bounds.is_open());
  EXPECT_TRUE(effective_resistance(2, Network{{0, 1, k_infinite_ohms.value}}, 0, 1).bounds.is_open());
  EXPECT_EQ(effective_resistance(3, Network{{0, 1, 0}, {1, 2, 0}}, 0, 2).bounds,
            (OhmInterval{Ohms{0}, Ohms{0}}));
}

TEST(EffectiveResistance, PotentialsReachDeadEndsAndJoinedNodes) {
  // 0 - 10 - 1 - 30 - 2, with 3 hanging on 1, 4 on 3, and 5 joined to 1.
  const Network network{{0, 1, 10}, {1, 2, 30}, {1, 3, 7}, {3, 4, 7}, {1, 5, 0}};
  const EffectiveResistance answer = effective_resistance(6, network, 0, 2);
  EXPECT_NEAR(answer.bounds.lo.value, 40, 1e-9);
  const double expected[] = {1, 0.75, 0, 0.75, 0.75, 0.75};
  for (std::size_t node = 0; node < 6; ++node) EXPECT_NEAR(answer.potential[node], expected[node], 1e-12);
}

TEST(EffectiveResistance, RaisingAResistorNeverLowersIt) {
  std::mt19937 random(testing::test_seed());
  for (int round = 0; round < 300; ++round) {
    const auto nodes = static_cast<std::uint32_t>(4 + random() % 20);
    Network network = random_network(random, nodes, nodes, 0.1, 1e5);
    double before = 0;
    for (int step = 0; step < 5; ++step) {
      const OhmInterval now = effective_resistance(nodes, network, 0, nodes - 1).bounds;
      EXPECT_GE(now.hi.value, before);
      before = now.lo.value;
      network[random() % network.size()].ohms *= 1 + static_cast<double>(random() % 100);
    }
  }
}

TEST(EffectiveResistance, AMilliohmBesideTenMegohms) {
  std::mt19937 random(testing::test_seed());
  for (int round = 0; round < 300; ++round) {
    const auto nodes = static_cast<std::uint32_t>(3 + random() % 30);
    // Values over 12 decades, two more than what a panel holds.
    const Network network =
        random_network(random, nodes, static_cast<std::uint32_t>(random() % 40), 1e-4, 1e8);
    const OhmInterval bounds = effective_resistance(nodes, network, 0, nodes - 1).bounds;
    const double exact = by_star_mesh(network, nodes, 0, nodes - 1);
    EXPECT_LE(bounds.lo.value, exact * (1 + 1e-12));
    EXPECT_GE(bounds.hi.value, exact * (1 - 1e-12));
    EXPECT_LE(bounds.hi.value, bounds.lo.value * (1 + k_solver_accuracy));
  }
}

TEST(EffectiveResistance, TheSameFromTheOtherSideAndInAnyOrder) {
  std::mt19937 random(testing::test_seed());
  Network network = random_network(random, 12, 15, 1, 1000);
  const double there = ohms(network, 12, 0, 11);
  EXPECT_NEAR(ohms(network, 12, 11, 0), there, there * 1e-9);
  std::shuffle(network.begin(), network.end(), random);
  for (Resistor& r : network) std::swap(r.a, r.b);
  EXPECT_NEAR(ohms(network, 12, 0, 11), there, there * 1e-9);
}

TEST(EffectiveResistance, SeriesAndParallelReductionGiveTheSame) {
  // Random series-parallel networks, reduced on the way as they are built.
  std::mt19937 random(testing::test_seed());
  const auto value = [&] { return 1 + static_cast<double>(random() % 1000); };
  for (int round = 0; round < 300; ++round) {
    Network network;
    std::uint32_t nodes = 2;
    // Returns what lies between a and b, put into the network.
    const std::function<double(std::uint32_t, std::uint32_t, int)> grow =
        [&](std::uint32_t a, std::uint32_t b, int depth) -> double {
      if (depth == 0 || random() % 4 == 0) {
        network.push_back({a, b, value()});
        return network.back().ohms;
      }
      if (random() % 2 == 0) {
        const std::uint32_t middle = nodes++;
        const double first = grow(a, middle, depth - 1);
        return first + grow(middle, b, depth - 1);
      }
      const double first = grow(a, b, depth - 1), second = grow(a, b, depth - 1);
      return first * second / (first + second);
    };
    const double reduced = grow(0, 1, 5);
    EXPECT_NEAR(ohms(network, nodes, 0, 1), reduced, reduced * 1e-9);
  }
}

}  // namespace
}  // namespace ringtrue
