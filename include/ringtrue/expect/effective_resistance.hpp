#pragma once
#include <cstdint>
#include <span>
#include <vector>

#include "ringtrue/base/interval.hpp"

namespace ringtrue {

/// One resistor of a network. 0 ohms joins its nodes, infinite ohms is no resistor at all.
struct Resistor {
  std::uint32_t a = 0, b = 0;
  double ohms = 0;
};

/// What a network shows between two of its nodes.
struct EffectiveResistance {
  /// Encloses the exact value; the two are at most `k_solver_accuracy` of it apart. Open where no resistor
  /// leads across.
  OhmInterval bounds;
  /// By node, 1 at `from` and 0 at `to`; 0 as well at nodes that nothing joins to the two. Where it's open, 1
  /// at all that is joined to `from`. Empty where it's 0.
  std::vector<double> potential;
};

/// Relative width within which the two bounds of a solution lie. Stated, and asserted by tests with resistors
/// from 1e-6 to 1e12 ohms side by side.
inline constexpr double k_solver_accuracy = 1e-9;

/// Solves a network of resistors for the resistance between two nodes.
///
/// The answer is an enclosure and doesn't rest on the solver's rounding: any potential bounds it from below
/// (Dirichlet's principle) and any flow of one ampere from above (Thomson's); both are taken from one
/// solution whose error enters squared. `nodes` is one more than the greatest node number. Cost: one sparse
/// LDLT of the nodes that join the two; branches that lead nowhere are cut off first. Source: Doyle and Snell
/// 1984, Random Walks and Electric Networks, sections 1.3.5 and 1.4.
[[nodiscard]] EffectiveResistance effective_resistance(std::uint32_t nodes,
                                                       std::span<const Resistor> resistors,
                                                       std::uint32_t from, std::uint32_t to);

}  // namespace ringtrue
