#pragma once
#include <cmath>
#include <cstdint>
#include <span>
#include <vector>

#include "separation.hpp"

namespace ringtrue {

/// Without asking how many bits there are, which the usual processors have no instruction for.
inline bool is_certain(Outcomes outcomes) { return (outcomes & (outcomes - 1u)) == 0; }

inline double plogp(double p) { return p > 0 ? p * std::log2(p) : 0; }

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

[[nodiscard]] Live all_of(std::span<const Hypothesis> hypotheses);
/// Those that an outcome leaves.
[[nodiscard]] Live after(const Live& live, const Separator& test, unsigned outcome);
/// Of the weight of a hypothesis what an outcome leaves.
[[nodiscard]] double share(Outcomes outcomes, unsigned outcome);

/// Weights added up by remedy. Entropies are formed from sums that are not scaled: H(w) = log2(W) - sum of
/// w log2(w) / W.
class RemedyWeights {
 public:
  explicit RemedyWeights(std::span<const Hypothesis> hypotheses);

  [[nodiscard]] bool are_of_one_remedy(const Live& live) const;
  /// W times the entropy of the remedies.
  [[nodiscard]] double unscaled_entropy(const Live& live);
  /// What a test tells, times the weight of the hypotheses; `entropy`: theirs, asked for last.
  [[nodiscard]] double unscaled_information(const Live& live, double entropy, const Separator& test);

 private:
  [[nodiscard]] double unscaled_by_two(const Live& live, double entropy, const Separator& test);
  template <class ShareOf>
  [[nodiscard]] double unscaled_entropy(const Live& live, ShareOf&& share_of);
  [[nodiscard]] double sum_of(const std::vector<double>& weights) const;

  /// Most tests leave most remedies whole, and logarithms are dear.
  struct Undivided {
    double weight = 0, plogp = 0;
  };
  std::vector<std::uint32_t> place_;  ///< by hypothesis, in `by_remedy_`
  std::vector<double> by_remedy_, others_;
  std::vector<Undivided> undivided_;
};

/// `information` of many tests of the same hypotheses.
class InformationOf {
 public:
  explicit InformationOf(std::span<const Hypothesis> hypotheses)
      : all_(all_of(hypotheses)), remedies_(hypotheses), entropy_(remedies_.unscaled_entropy(all_)) {}
  [[nodiscard]] double operator()(const Separator& test) {
    return remedies_.unscaled_information(all_, entropy_, test) / all_.total;
  }

 private:
  Live all_;
  RemedyWeights remedies_;
  double entropy_;
};

}  // namespace ringtrue
