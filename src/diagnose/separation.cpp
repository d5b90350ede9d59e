#include "separation.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <map>

namespace ringtrue {

namespace {

constexpr unsigned k_outcomes = 16;

double plogp(double p) { return p > 0 ? p * std::log2(p) : 0; }

double share(Outcomes outcomes, unsigned outcome) {
  if ((outcomes >> outcome & 1u) == 0) return 0;
  return (outcomes & (outcomes - 1u)) == 0 ? 1 : 1.0 / std::popcount(outcomes);
}

/// Hypotheses that may still hold, in order.
struct Live {
  struct One {
    std::uint32_t hypothesis;
    double weight;
  };
  std::vector<One> ones;
  double total = 0;

  void add(std::uint32_t hypothesis, double weight) {
    if (weight <= 0) return;
    ones.push_back({hypothesis, weight});
    total += weight;
  }
};

/// Those that an outcome leaves.
Live after(const Live& live, const Separator& test, unsigned outcome) {
  Live left;
  for (const Live::One& one : live.ones)
    left.add(one.hypothesis, one.weight * share(test.outcomes[one.hypothesis], outcome));
  return left;
}

/// Weights added up by remedy. Entropies are formed from sums that are not scaled: H(w) = log2(W) - sum of
/// w log2(w) / W.
class WeightOfRemedies {
 public:
  explicit WeightOfRemedies(std::span<const Hypothesis> hypotheses) {
    std::vector<std::uint32_t> remedies;
    for (const Hypothesis& one : hypotheses) remedies.push_back(one.remedy);
    std::sort(remedies.begin(), remedies.end());
    remedies.erase(std::unique(remedies.begin(), remedies.end()), remedies.end());
    by_remedy_.resize(remedies.size());
    others_.resize(remedies.size());
    undivided_.resize(remedies.size());
    for (const Hypothesis& one : hypotheses)
      place_.push_back(static_cast<std::uint32_t>(
          std::lower_bound(remedies.begin(), remedies.end(), one.remedy) - remedies.begin()));
  }

  [[nodiscard]] bool are_of_one_remedy(const Live& live) const {
    return std::all_of(live.ones.begin(), live.ones.end(), [&](const Live::One& one) {
      return place_[one.hypothesis] == place_[live.ones.front().hypothesis];
    });
  }

  /// W times the entropy of the remedies.
  double unscaled_entropy(const Live& live) {
    std::fill(undivided_.begin(), undivided_.end(), Undivided{});
    const double entropy = unscaled_entropy(live, [](const Live::One&) { return 1.0; });
    for (std::size_t r = 0; r < by_remedy_.size(); ++r) undivided_[r] = {by_remedy_[r], plogp(by_remedy_[r])};
    return entropy;
  }

  /// What a test tells, times the weight of the hypotheses; `entropy`: theirs, asked for last.
  double unscaled_information(const Live& live, double entropy, const Separator& test) {
    unsigned all = 0;
    bool is_certain = true;
    for (const Live::One& one : live.ones) {
      all |= test.outcomes[one.hypothesis];
      is_certain = is_certain && std::has_single_bit(test.outcomes[one.hypothesis]);
    }
    // An outcome that all have tells nothing.
    if (std::has_single_bit(all)) return 0;
    if (is_certain && std::popcount(all) == 2) return unscaled_by_two(live, entropy, test);
    double left = entropy;
    for (; all != 0; all &= all - 1) {
      const auto outcome = static_cast<unsigned>(std::countr_zero(all));
      left -= unscaled_entropy(
          live, [&](const Live::One& one) { return share(test.outcomes[one.hypothesis], outcome); });
    }
    return std::max(left, 0.0);
  }

 private:
  /// The same for two certain outcomes, in one go.
  double unscaled_by_two(const Live& live, double entropy, const Separator& test) {
    const Outcomes one_of_them = test.outcomes[live.ones.front().hypothesis];
    std::fill(by_remedy_.begin(), by_remedy_.end(), 0);
    std::fill(others_.begin(), others_.end(), 0);
    double total = 0, total_of_others = 0;
    for (const Live::One& one : live.ones) {
      const bool is_same = test.outcomes[one.hypothesis] == one_of_them;
      (is_same ? by_remedy_ : others_)[place_[one.hypothesis]] += one.weight;
      (is_same ? total : total_of_others) += one.weight;
    }
    const double left =
        entropy - (plogp(total) - sum_of(by_remedy_)) - (plogp(total_of_others) - sum_of(others_));
    return std::max(left, 0.0);
  }

  template <class ShareOf>
  double unscaled_entropy(const Live& live, ShareOf&& share_of) {
    std::fill(by_remedy_.begin(), by_remedy_.end(), 0);
    double total = 0;
    for (const Live::One& one : live.ones) {
      const double weight = one.weight * share_of(one);
      by_remedy_[place_[one.hypothesis]] += weight;
      total += weight;
    }
    return plogp(total) - sum_of(by_remedy_);
  }

  [[nodiscard]] double sum_of(const std::vector<double>& weights) const {
    double sum = 0;
    for (std::size_t r = 0; r < weights.size(); ++r)
      if (weights[r] > 0) sum += weights[r] == undivided_[r].weight ? undivided_[r].plogp : plogp(weights[r]);
    return sum;
  }

  /// Most tests leave most remedies whole, and logarithms are dear.
  struct Undivided {
    double weight = 0, plogp = 0;
  };
  std::vector<std::uint32_t> place_;  ///< by hypothesis, in `by_remedy_`
  std::vector<double> by_remedy_, others_;
  std::vector<Undivided> undivided_;
};

Live all_of(std::span<const Hypothesis> hypotheses) {
  Live live;
  for (std::uint32_t h = 0; h < hypotheses.size(); ++h) live.add(h, hypotheses[h].weight);
  return live;
}

class Choosing {
 public:
  Choosing(std::span<const Hypothesis> hypotheses, std::span<const Separator> tests)
      : count_(hypotheses.size()), all_(all_of(hypotheses)), tests_(tests), remedies_(hypotheses) {}

  std::optional<std::size_t> run() {
    find_useful();
    if (useful_.empty()) return std::nullopt;
    const auto better = [](const Useful& x, const Useful& y) { return x.score > y.score; };
    std::stable_sort(useful_.begin(), useful_.end(), better);
    if (useful_.size() > k_most_useful) useful_.resize(k_most_useful);
    if (count_ <= k_most_to_look_ahead) look_ahead();
    return std::min_element(useful_.begin(), useful_.end(), better)->test;
  }

 private:
  struct Useful {
    std::size_t test;
    double score;
  };

  /// Information per effort, rounded: what is the same but for the order of the sums counts as equal.
  static double score(double bits, double effort) { return std::round(bits / effort / k_least_bits); }

  /// Tests with some information; of those with the same outcomes the one of least effort.
  void find_useful() {
    const double entropy = remedies_.unscaled_entropy(all_);
    struct Known {
      double bits;
      std::size_t useful;
    };
    std::map<std::vector<Outcomes>, Known> known;
    for (std::size_t i = 0; i < tests_.size(); ++i) {
      const auto [at, is_new] = known.try_emplace(tests_[i].outcomes, Known{0, useful_.size()});
      auto& [bits, useful] = at->second;
      if (is_new) bits = remedies_.unscaled_information(all_, entropy, tests_[i]) / all_.total;
      if (bits < k_least_bits) continue;
      if (is_new)
        useful_.push_back({i, score(bits, tests_[i].effort)});
      else if (tests_[i].effort < tests_[useful_[useful].test].effort)
        useful_[useful] = {i, score(bits, tests_[i].effort)};
    }
  }

  /// The score becomes the expected effort to the end, negative, if the test is taken and then always the
  /// best by one step.
  void look_ahead() {
    std::vector<double> scores;
    const std::size_t ahead = std::min(useful_.size(), k_most_tests_ahead);
    is_certain_ = std::all_of(useful_.begin(), useful_.end(), [this](const Useful& one) {
      const std::vector<Outcomes>& outcomes = tests_[one.test].outcomes;
      return std::all_of(outcomes.begin(), outcomes.end(),
                         [](Outcomes outcome) { return std::has_single_bit(outcome); });
    });
    for (std::size_t i = 0; i < ahead; ++i) scores.push_back(score(-effort_with(i, all_, 1), all_.total));
    useful_.resize(ahead);
    for (std::size_t i = 0; i < ahead; ++i) useful_[i].score = scores[i];
  }

  /// Of taking a test and what follows, times the weight of the hypotheses.
  double effort_with(std::size_t useful, const Live& live, std::size_t depth) {
    const Separator& test = tests_[useful_[useful].test];
    double effort = live.total * test.effort;
    if (depth == k_most_steps_ahead) return effort;
    unsigned all = 0;
    for (const Outcomes one : test.outcomes) all |= one;
    for (; all != 0; all &= all - 1) {
      const Live left = after(live, test, static_cast<unsigned>(std::countr_zero(all)));
      // What an either-outcome has left open, the same test would leave open again.
      taken_.push_back(useful);
      effort += effort_to_end(left, depth + 1);
      taken_.pop_back();
    }
    return effort;
  }

  /// Of going on by one step. Where outcomes are certain, what is left says all: many ways lead to it.
  double effort_to_end(const Live& live, std::size_t depth) {
    const auto work_out = [&] {
      const auto next = best_by_one_step(live);
      return next ? effort_with(*next, live, depth) : 0;
    };
    if (!is_certain_) return work_out();
    static_assert(k_most_to_look_ahead <= 64);
    std::uint64_t who = 0;
    for (const Live::One& one : live.ones) who |= std::uint64_t{1} << one.hypothesis;
    const auto known = efforts_.find({who, depth});
    if (known != efforts_.end()) return known->second;
    const double effort = work_out();
    efforts_.emplace(std::pair(who, depth), effort);
    return effort;
  }

  std::optional<std::size_t> best_by_one_step(const Live& live) {
    if (remedies_.are_of_one_remedy(live)) return std::nullopt;
    const double entropy = remedies_.unscaled_entropy(live);
    // No test tells more than there is to be found out.
    constexpr double k_rounding = 1 + 1e-9;
    const double most_bits = entropy / all_.total * k_rounding;
    std::optional<std::size_t> best;
    double best_score = 0;
    for (std::size_t i = 0; i < useful_.size(); ++i) {
      const Separator& test = tests_[useful_[i].test];
      if (score(most_bits, test.effort) <= best_score) continue;
      if (std::find(taken_.begin(), taken_.end(), i) != taken_.end()) continue;
      const double bits = remedies_.unscaled_information(live, entropy, test) / all_.total;
      if (bits < k_least_bits || score(bits, test.effort) <= best_score) continue;
      best = i, best_score = score(bits, test.effort);
    }
    return best;
  }

  std::size_t count_;  ///< of hypotheses
  const Live all_;
  std::span<const Separator> tests_;
  WeightOfRemedies remedies_;
  std::vector<Useful> useful_;
  std::vector<std::size_t> taken_;  ///< on the way that is looked along, places in `useful_`
  bool is_certain_ = false;         ///< each outcome of the useful tests
  std::map<std::pair<std::uint64_t, std::size_t>, double> efforts_;  ///< to the end, by who is live and depth
};

}  // namespace

double entropy(std::span<const Hypothesis> hypotheses) {
  const Live live = all_of(hypotheses);
  return WeightOfRemedies(hypotheses).unscaled_entropy(live) / live.total;
}

double information(std::span<const Hypothesis> hypotheses, const Separator& test) {
  const Live live = all_of(hypotheses);
  WeightOfRemedies remedies(hypotheses);
  return remedies.unscaled_information(live, remedies.unscaled_entropy(live), test) / live.total;
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
