// Time of one answer over a soft component of so many elements: two networks, all at their lowest and all at
// their highest value. Prints the median in milliseconds; `--write FILE` also writes the networks for another
// solver, as lines `NODES FROM TO` and `A B OHMS`.
#include <algorithm>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <random>
#include <string>
#include <vector>

#include "ringtrue/expect/effective_resistance.hpp"

using namespace ringtrue;

namespace {

struct Shape {
  std::uint32_t nodes = 0, from = 0, to = 0;
  std::vector<Resistor> lowest, highest;

  void add(std::uint32_t a, std::uint32_t b, double low, double high) {
    lowest.push_back({a, b, low});
    highest.push_back({a, b, high});
  }
};

/// Panels side by side on one 24 V and one 0 V: each a chain of fused feeds with coils, lamps and modules
/// between the two, and coils of one relay feeding the next.
Shape panel(std::size_t elements, std::mt19937& random) {
  Shape shape;
  shape.nodes = 2;
  std::uniform_real_distribution<double> coil(100, 1000);
  while (shape.lowest.size() < elements) {
    const std::uint32_t feed = shape.nodes++;
    shape.add(0, feed, 0.01, 0.5);
    std::uint32_t before = feed;
    for (int i = 0; i < 6; ++i) {
      const std::uint32_t net = shape.nodes++;
      const double ohms = coil(random);
      shape.add(net, 1, ohms * 0.9, ohms * 1.1);
      shape.add(before, net, 50, 1e7);
      if (i % 2 == 1) shape.add(feed, net, 50, 1e7);
      before = net;
    }
  }
  shape.to = 1;
  return shape;
}

/// A square grid, what minimum-degree orderings are usually measured on.
Shape grid(std::size_t elements, std::mt19937& random) {
  Shape shape;
  std::uint32_t width = 2;
  while (2 * std::size_t{width} * (width - 1) < elements) ++width;
  std::uniform_real_distribution<double> ohms(1, 1000);
  for (std::uint32_t y = 0; y < width; ++y)
    for (std::uint32_t x = 0; x < width; ++x) {
      const std::uint32_t node = y * width + x;
      const double right = ohms(random), down = ohms(random);
      if (x + 1 < width) shape.add(node, node + 1, right * 0.9, right * 1.1);
      if (y + 1 < width) shape.add(node, node + width, down * 0.9, down * 1.1);
    }
  shape.nodes = width * width;
  shape.to = shape.nodes - 1;
  return shape;
}

double median_ms(const Shape& shape, int rounds) {
  std::vector<double> times;
  for (int i = 0; i < rounds; ++i) {
    const auto start = std::chrono::steady_clock::now();
    const OhmInterval low = effective_resistance(shape.nodes, shape.lowest, shape.from, shape.to).bounds;
    const OhmInterval high = effective_resistance(shape.nodes, shape.highest, shape.from, shape.to).bounds;
    times.push_back(
        std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now() - start).count());
    if (!(low.lo <= high.hi)) std::abort();
  }
  std::nth_element(times.begin(), times.begin() + rounds / 2, times.end());
  return times[static_cast<std::size_t>(rounds / 2)];
}

void write(const std::string& file, const Shape& shape) {
  std::ofstream out(file);
  out.precision(17);
  for (const auto* resistors : {&shape.lowest, &shape.highest}) {
    out << "network " << shape.nodes << " " << shape.from << " " << shape.to << "\n";
    for (const Resistor& r : *resistors) out << r.a << " " << r.b << " " << r.ohms << "\n";
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 4) return std::fprintf(stderr, "usage: solver_bench panel|grid ELEMENTS ROUNDS [FILE]\n"), 2;
  std::mt19937 random(1);
  const std::size_t elements = std::strtoul(argv[2], nullptr, 10);
  const Shape shape = std::string(argv[1]) == "grid" ? grid(elements, random) : panel(elements, random);
  if (argc > 4) write(argv[4], shape);
  std::printf("%zu elements, %u nodes: median %.3f ms\n", shape.lowest.size(), shape.nodes,
              median_ms(shape, std::atoi(argv[3])));
}
