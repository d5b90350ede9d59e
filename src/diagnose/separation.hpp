#pragma once
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace ringtrue {

// Which test tells hypotheses apart best. Knows nothing of panels.

/// One of several things of which exactly one holds.
struct Hypothesis {
  double weight = 0;         ///< above 0; only ratios count
  std::uint32_t remedy = 0;  ///< hypotheses with the same one need not be told apart
};

/// Outcomes that a test may have, one bit each. A single bit is certain; of several bits each counts as
/// equally likely.
using Outcomes = std::uint16_t;

struct Separator {
  std::vector<Outcomes> outcomes;  ///< by hypothesis, never 0
  double effort = 1;               ///< above 0
};

/// What is left to find out, in bits: the entropy of the remedies.
[[nodiscard]] double entropy(std::span<const Hypothesis> hypotheses);

/// What a test can be expected to tell of the remedy, in bits: the mutual information of its outcome and the
/// remedy. 0 for a test that separates nothing.
[[nodiscard]] double information(std::span<const Hypothesis> hypotheses, const Separator& test);

/// Weights after an outcome, in the same order; 0 for those that it excludes. Not scaled to 1.
[[nodiscard]] std::vector<Hypothesis> after(std::span<const Hypothesis> hypotheses, const Separator& test,
                                            unsigned outcome);

/// A test with less information separates nothing.
inline constexpr double k_least_bits = 1e-9;
/// Looked ahead is with at most so many hypotheses; so many tests (the best by one step) are tried as the
/// next one, so many are kept in mind for later, and a way is followed for so many steps.
inline constexpr std::size_t k_most_to_look_ahead = 64, k_most_tests_ahead = 16, k_most_useful = 64,
                             k_most_steps_ahead = 6;

/// The test to take next, so that little effort is to be expected until the remedy is known.
///
/// One step alone asks for the most information per effort. That can be a trap: what is left after it may be
/// dear to tell apart. So the tests that are best by one step are each followed to the end, by one step from
/// then on, and the one with the least expected effort is taken; where outcomes are certain and the limits
/// above not reached, that is never worse than going by one step alone. Equals go by the better first step,
/// then by their order. Nothing if no test separates anything.
///
/// Guarantee: none of optimality, which is NP-hard (Hyafil and Rivest 1976); a test compares it with the
/// exact optimum. Source of the measure: de Kleer and Williams 1987, Diagnosing Multiple Faults.
///
/// Cost: at most A * 2^S * T * H for A tests tried, S steps, T tests and H hypotheses; mostly far less, since
/// outcomes exclude hypotheses.
[[nodiscard]] std::optional<std::size_t> best_test(std::span<const Hypothesis> hypotheses,
                                                   std::span<const Separator> tests);

}  // namespace ringtrue
