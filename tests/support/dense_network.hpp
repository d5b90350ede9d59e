#pragma once
#include <algorithm>
#include <cstdint>
#include <vector>

namespace ringtrue::testing {

/// Volts of every point for one ampere from red to black, black at 0; empty where no current can flow. Naive
/// on purpose: dense elimination in long double over the points joined to black. A resistor has `a`, `b` and
/// `ohms`; less than a micro-ohm counts as one. Shares nothing with the solver.
template <class Resistor>
std::vector<long double> potentials(std::uint32_t points_of_network, const std::vector<Resistor>& present,
                                    std::uint32_t red, std::uint32_t black) {
  std::vector<bool> joined(points_of_network, false);
  joined[black] = true;
  for (bool grown = true; grown;) {
    grown = false;
    for (const Resistor& r : present)
      if (joined[r.a] != joined[r.b]) joined[r.a] = joined[r.b] = grown = true;
  }
  if (!joined[red]) return {};
  std::vector<std::uint32_t> row(points_of_network, 0), points;
  for (std::uint32_t p = 0; p < points_of_network; ++p)
    if (joined[p] && p != black) row[p] = static_cast<std::uint32_t>(points.size()), points.push_back(p);
  const std::size_t n = points.size();
  std::vector<long double> m(n * (n + 1), 0);
  const auto at = [&](std::size_t i, std::size_t j) -> long double& { return m[i * (n + 1) + j]; };
  if (red != black) at(row[red], n) = 1;
  for (const Resistor& r : present) {
    if (!joined[r.a] || r.a == r.b) continue;
    const long double siemens = 1.0L / std::max(r.ohms, 1e-6);
    if (r.a != black) at(row[r.a], row[r.a]) += siemens;
    if (r.b != black) at(row[r.b], row[r.b]) += siemens;
    if (r.a != black && r.b != black) at(row[r.a], row[r.b]) -= siemens, at(row[r.b], row[r.a]) -= siemens;
  }
  // A joined network's matrix is positive definite: no pivot is small.
  for (std::size_t k = 0; k < n; ++k)
    for (std::size_t i = k + 1; i < n; ++i) {
      const long double share = at(i, k) / at(k, k);
      if (share == 0) continue;
      for (std::size_t j = k; j <= n; ++j) at(i, j) -= share * at(k, j);
    }
  std::vector<long double> volts(points_of_network, 0);
  for (std::size_t k = n; k-- > 0;) {
    long double sum = at(k, n);
    for (std::size_t j = k + 1; j < n; ++j) sum -= at(k, j) * volts[points[j]];
    volts[points[k]] = sum / at(k, k);
  }
  return volts;
}

}  // namespace ringtrue::testing
