// Textbook networks of resistors and their exact answers.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "ringtrue/expect/effective_resistance.hpp"
#include "tests/support/random_netlist.hpp"

namespace ringtrue {
namespace {

using Network = std::vector<Resistor>;

double ohms(const Network& network, std::uint32_t nodes, std::uint32_t from, std::uint32_t to) {
  return effective_resistance(nodes, network, from, to).bounds.lo.value;
}

Network cube() {
  Network network;
  for (std::uint32_t corner = 0; corner < 8; ++corner)
    for (std::uint32_t axis = 1; axis < 8; axis *= 2)
      if ((corner & axis) == 0) network.push_back({corner, corner | axis, 1});
  return network;
}

Network complete(std::uint32_t nodes) {
  Network network;
  for (std::uint32_t a = 0; a < nodes; ++a)
    for (std::uint32_t b = a + 1; b < nodes; ++b) network.push_back({a, b, 1});
  return network;
}

// The cube of one-ohm resistors, a classic of the textbooks: along an edge, a face and the body.
TEST(ResistorNetworks, Cube) {
  EXPECT_NEAR(ohms(cube(), 8, 0, 1), 7.0 / 12, 1e-9);
  EXPECT_NEAR(ohms(cube(), 8, 0, 3), 3.0 / 4, 1e-9);
  EXPECT_NEAR(ohms(cube(), 8, 0, 7), 5.0 / 6, 1e-9);
}

TEST(ResistorNetworks, TetrahedronOctahedronAndRings) {
  EXPECT_NEAR(ohms(complete(4), 4, 0, 1), 1.0 / 2, 1e-9);
  Network octahedron;  // all pairs of six corners but the three opposite ones
  for (const Resistor& r : complete(6))
    if (r.a / 2 != r.b / 2) octahedron.push_back(r);
  EXPECT_NEAR(ohms(octahedron, 6, 0, 2), 5.0 / 12, 1e-9);
  EXPECT_NEAR(ohms(octahedron, 6, 0, 1), 1.0 / 2, 1e-9);
  Network ring;
  for (std::uint32_t i = 0; i < 6; ++i) ring.push_back({i, (i + 1) % 6, 1});
  for (std::uint32_t k = 1; k < 6; ++k) EXPECT_NEAR(ohms(ring, 6, 0, k), k * (6.0 - k) / 6, 1e-9);
}

// Ladder of one-ohm resistors fed at one end, 1 to 5 cells.
TEST(ResistorNetworks, Ladder) {
  const double exact[] = {3, 11.0 / 4, 41.0 / 15, 153.0 / 56, 571.0 / 209};
  for (std::uint32_t cells = 1; cells <= 5; ++cells) {
    Network network;
    for (std::uint32_t i = 0; i < cells; ++i) {
      network.push_back({2 * i, 2 * i + 2, 1});
      network.push_back({2 * i + 1, 2 * i + 3, 1});
      network.push_back({2 * i + 2, 2 * i + 3, 1});
    }
    EXPECT_NEAR(ohms(network, 2 * cells + 2, 0, 1), exact[cells - 1], 1e-9);
  }
}

/// in, out, top, bottom = 0, 1, 2, 3.
Network bridge(double in_top, double in_bottom, double top_out, double bottom_out, double middle) {
  return {{0, 2, in_top}, {0, 3, in_bottom}, {2, 1, top_out}, {3, 1, bottom_out}, {2, 3, middle}};
}

TEST(ResistorNetworks, WheatstoneBridge) {
  // Unbalanced.
  EXPECT_NEAR(ohms(bridge(1, 2, 3, 4, 5), 4, 0, 1), 170.0 / 71, 1e-9);
  EXPECT_NEAR(ohms(bridge(1, 2, 2, 1, 1), 4, 0, 1), 7.0 / 5, 1e-9);
  // Balanced: the middle carries nothing, whatever it is.
  for (const double middle : {1e-3, 10.0, 1e7}) {
    EXPECT_NEAR(ohms(bridge(6, 8, 3, 4, middle), 4, 0, 1), 9.0 * 12 / 21, 1e-9);
    EXPECT_NEAR(ohms(bridge(30, 10, 15, 5, middle), 4, 0, 1), 45.0 * 15 / 60, 1e-9);
  }
  Network with_series = bridge(6, 8, 3, 4, 10);
  with_series.push_back({4, 0, 7});
  EXPECT_NEAR(ohms(with_series, 5, 4, 1), 85.0 / 7, 1e-9);
}

// Star 2, 4, 6 from O to X, Y, Z; X-Z 1, X-Y 3, Y-Z 5; between Y and Z.
TEST(ResistorNetworks, FullyMeshedFour) {
  const Network network{{0, 1, 2}, {0, 2, 4}, {0, 3, 6}, {1, 3, 1}, {1, 2, 3}, {2, 3, 5}};
  EXPECT_NEAR(ohms(network, 4, 2, 3), 1030.0 / 591, 1e-9);
}

// Foster 1949: over all resistors of a connected network, effective resistance over resistance sums up to the
// number of nodes less one.
TEST(ResistorNetworks, FostersTheorem) {
  std::mt19937 random(testing::test_seed());
  for (int round = 0; round < 60; ++round) {
    const auto nodes = static_cast<std::uint32_t>(2 + random() % 25);
    Network network;
    for (std::uint32_t i = 1; i < nodes; ++i)
      network.push_back(
          {i, static_cast<std::uint32_t>(random() % i), 0.5 + static_cast<double>(random() % 5000)});
    for (std::uint32_t i = 0; i < 2 * nodes; ++i) {
      const auto a = static_cast<std::uint32_t>(random() % nodes),
                 b = static_cast<std::uint32_t>(random() % nodes);
      if (a != b) network.push_back({a, b, 0.5 + static_cast<double>(random() % 5000)});
    }
    double sum = 0;
    for (const Resistor& r : network) sum += ohms(network, nodes, r.a, r.b) / r.ohms;
    EXPECT_NEAR(sum, nodes - 1.0, 1e-7);
  }
}

}  // namespace
}  // namespace ringtrue
