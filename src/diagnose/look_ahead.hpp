#pragma once
#include <cmath>
#include <cstddef>
#include <optional>

#include "separation.hpp"

namespace ringtrue {

/// Information per effort, rounded: what is the same but for the order of the sums counts as equal.
inline double score_of(double bits, double effort) { return std::round(bits / effort / k_least_bits); }

/// The test of the best score, the first of equals.
class BestOfScores {
 public:
  /// No more bits than these would make a test of that effort the best.
  [[nodiscard]] bool may_beat(double bits, double effort) const { return score_of(bits, effort) > score_; }
  void offer(std::size_t test, double bits, double effort) {
    if (bits < k_least_bits) return;
    const double score = score_of(bits, effort);
    if (score > score_) best_ = test, score_ = score;
  }
  [[nodiscard]] std::optional<std::size_t> best() const { return best_; }

 private:
  std::optional<std::size_t> best_;
  double score_ = 0;
};

/// Expected effort of taking a test and then always the best by one step, times the weight of what is left.
///
/// `Tests` has `Left`, the hypotheses that may still hold, with their `total` weight; `effort(test)`;
/// `for_each_part(left, test, visit)`, what each outcome leaves; `best_by_one_step(left)`; and
/// `once(left, depth, work_out)`, which may remember what was worked out.
template <class Tests>
double effort_with(Tests& tests, std::size_t test, const typename Tests::Left& left, std::size_t depth = 1) {
  double effort = left.total * tests.effort(test);
  if (depth == k_most_steps_ahead) return effort;
  tests.for_each_part(left, test, [&](const typename Tests::Left& part) {
    effort += tests.once(part, depth + 1, [&]() -> double {
      const auto next = tests.best_by_one_step(part);
      return next ? effort_with(tests, *next, part, depth + 1) : 0;
    });
  });
  return effort;
}

}  // namespace ringtrue
