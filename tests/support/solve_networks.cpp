// Solves networks of resistors read from standard input, for tests against other solvers:
//   nodes FROM TO COUNT     begins a network
//   A B OHMS                one resistor
// For each network a line with the two bounds of the resistance between FROM and TO; `inf inf` where open.
#include <cstdio>
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "ringtrue/expect/effective_resistance.hpp"

int main() {
  std::vector<ringtrue::Resistor> resistors;
  std::uint32_t nodes = 0, from = 0, to = 0;
  const auto solve = [&] {
    if (nodes == 0) return;
    const ringtrue::OhmInterval bounds = effective_resistance(nodes, resistors, from, to).bounds;
    std::printf("%.17g %.17g\n", bounds.lo.value, bounds.hi.value);
  };
  std::string line;
  while (std::getline(std::cin, line)) {
    std::istringstream words(line);
    if (line.starts_with("nodes")) {
      solve();
      resistors.clear();
      std::string word;
      words >> word >> from >> to >> nodes;
      continue;
    }
    ringtrue::Resistor resistor;
    if (words >> resistor.a >> resistor.b >> resistor.ohms) resistors.push_back(resistor);
  }
  solve();
  return 0;
}
