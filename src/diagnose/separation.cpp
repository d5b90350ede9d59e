#include "separation.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <map>

namespace ringtrue {

namespace {

constexpr unsigned k_outcomes = 16;

double plogp(double p) { return p > 0 ? p * std::log2(p) : 0; }

/// Weights added up by remedy. Entropies are formed from sums that are not scaled: H(w) = log2(W) - sum of
/// w log2(w) / W.
class WeightOfRemedies {
 public:
  explicit WeightOfRemedies(std::span<const Hypothesis> hypotheses) {
    for (const Hypothesis& one : hypotheses) remedies_.push_back(one.remedy);
    std::sort(remedies_.begin(), remedies_.end());
    remedies_.erase(std::unique(remedies_.begin(), remedies_.end()), remedies_.end());
    for (const Hypothesis& one : hypotheses)
      place_.push_back(static_cast<std::uint32_t>(
          std::lower_bound(remedies_.begin(), remedies_.end(), one.remedy) - remedies_.begin()));
  }

  /// W times the entropy of the remedies, for weights by hypothesis that add up to W.
  template <class WeightOf>
  double unscaled_entropy(WeightOf&& weight_of) {
    by_remedy_.assign(remedies_.size(), 0);
    double total = 0;
    for (std::size_t h = 0; h < place_.size(); ++h) {
      const double weight = weight_of(h);
      by_remedy_[place_[h]] += weight;
      total += weight;
    }
    double sum = 0;
    for (const double weight : by_remedy_) sum += plogp(weight);
    return plogp(total) - sum;
  }

 private:
  std::vector<std::uint32_t> remedies_;  ///< sorted
  std::vector<std::uint32_t> place_;     ///< by hypothesis, in `remedies_`
  std::vector<double> by_remedy_;
};

double share(Outcomes outcomes, unsigned outcome) {
  return (outcomes >> outcome & 1u) != 0 ? 1.0 / std::popcount(outcomes) : 0;
}

Outcomes all_outcomes(const Separator& test) {
  Outcomes all = 0;
  for (const Outcomes one : test.outcomes) all |= one;
  return all;
}

double total_of(std::span<const Hypothesis> hypotheses) {
  double total = 0;
  for (const Hypothesis& one : hypotheses) total += one.weight;
  return total;
}

/// Information times the total weight.
double unscaled_information(std::span<const Hypothesis> hypotheses, const Separator& test,
                            WeightOfRemedies& remedies) {
  double left = remedies.unscaled_entropy([&](std::size_t h) { return hypotheses[h].weight; });
  const Outcomes all = all_outcomes(test);
  for (unsigned outcome = 0; outcome < k_outcomes; ++outcome)
    if ((all >> outcome & 1u) != 0)
      left -= remedies.unscaled_entropy(
          [&](std::size_t h) { return hypotheses[h].weight * share(test.outcomes[h], outcome); });
  return std::max(left, 0.0);
}

class Choosing {
 public:
  Choosing(std::span<const Hypothesis> hypotheses, std::span<const Separator> tests)
      : hypotheses_(hypotheses), tests_(tests), remedies_(hypotheses), total_(total_of(hypotheses)) {}

  std::optional<std::size_t> run() {
    find_useful();
    if (useful_.empty()) return std::nullopt;
    const auto better = [](const Useful& x, const Useful& y) { return x.score > y.score; };
    std::stable_sort(useful_.begin(), useful_.end(), better);
    if (useful_.size() > k_most_useful) useful_.resize(k_most_useful);
    if (hypotheses_.size() <= k_most_to_look_ahead) look_ahead();
    return std::min_element(useful_.begin(), useful_.end(), better)->test;
  }

 private:
  struct Useful {
    std::size_t test;
    double bits;
    double score;
  };

  /// Information per effort, rounded: what is the same but for the order of the sums counts as equal.
  static double score(double bits, double effort) { return std::round(bits / effort / k_least_bits); }

  /// Tests with some information; of those with the same outcomes the one of least effort.
  void find_useful() {
    std::map<std::vector<Outcomes>, std::size_t> known;
    for (std::size_t i = 0; i < tests_.size(); ++i) {
      const double bits = unscaled_information(hypotheses_, tests_[i], remedies_) / total_;
      if (bits < k_least_bits) continue;
      const auto [at, is_new] = known.emplace(tests_[i].outcomes, useful_.size());
      if (is_new)
        useful_.push_back({i, bits, score(bits, tests_[i].effort)});
      else if (tests_[i].effort < tests_[useful_[at->second].test].effort)
        useful_[at->second] = {i, bits, score(bits, tests_[i].effort)};
    }
  }

  /// The score becomes the expected effort to the end, negative, if the test is taken and then always the
  /// best by one step.
  void look_ahead() {
    std::vector<double> scores;
    const std::size_t ahead = std::min(useful_.size(), k_most_tests_ahead);
    for (std::size_t i = 0; i < ahead; ++i) scores.push_back(score(-effort_with(i, hypotheses_, 1), total_));
    useful_.resize(ahead);
    for (std::size_t i = 0; i < ahead; ++i) useful_[i].score = scores[i];
  }

  /// Of taking a test and what follows, times the weight of the hypotheses.
  double effort_with(std::size_t useful, std::span<const Hypothesis> live, std::size_t depth) {
    const Separator& test = tests_[useful_[useful].test];
    double effort = total_of(live) * test.effort;
    if (depth == k_most_steps_ahead) return effort;
    const Outcomes all = all_outcomes(test);
    for (unsigned outcome = 0; outcome < k_outcomes; ++outcome) {
      if ((all >> outcome & 1u) == 0) continue;
      const std::vector<Hypothesis> left = after(live, test, outcome);
      // What an either-outcome has left open, the same test would leave open again.
      taken_.push_back(useful);
      if (const auto next = best_by_one_step(left)) effort += effort_with(*next, left, depth + 1);
      taken_.pop_back();
    }
    return effort;
  }

  std::optional<std::size_t> best_by_one_step(std::span<const Hypothesis> live) {
    std::optional<std::size_t> best;
    double best_score = 0;
    for (std::size_t i = 0; i < useful_.size(); ++i) {
      if (std::find(taken_.begin(), taken_.end(), i) != taken_.end()) continue;
      const Separator& test = tests_[useful_[i].test];
      const double bits = unscaled_information(live, test, remedies_) / total_;
      if (bits < k_least_bits || score(bits, test.effort) <= best_score) continue;
      best = i, best_score = score(bits, test.effort);
    }
    return best;
  }

  std::span<const Hypothesis> hypotheses_;
  std::span<const Separator> tests_;
  WeightOfRemedies remedies_;
  double total_;
  std::vector<Useful> useful_;
  std::vector<std::size_t> taken_;  ///< on the way that is looked along, places in `useful_`
};

}  // namespace

double entropy(std::span<const Hypothesis> hypotheses) {
  WeightOfRemedies remedies(hypotheses);
  return remedies.unscaled_entropy([&](std::size_t h) { return hypotheses[h].weight; }) /
         total_of(hypotheses);
}

double information(std::span<const Hypothesis> hypotheses, const Separator& test) {
  WeightOfRemedies remedies(hypotheses);
  return unscaled_information(hypotheses, test, remedies) / total_of(hypotheses);
}

std::vector<Hypothesis> after(std::span<const Hypothesis> hypotheses, const Separator& test,
                              unsigned outcome) {
  std::vector<Hypothesis> left(hypotheses.begin(), hypotheses.end());
  for (std::size_t h = 0; h < left.size(); ++h) left[h].weight *= share(test.outcomes[h], outcome);
  return left;
}

std::optional<std::size_t> best_test(std::span<const Hypothesis> hypotheses,
                                     std::span<const Separator> tests) {
  return Choosing(hypotheses, tests).run();
}

}  // namespace ringtrue
