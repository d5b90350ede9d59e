#include "remedy_weights.hpp"

#include <algorithm>
#include <bit>

namespace ringtrue {

namespace {

unsigned without_lowest(unsigned outcomes) { return outcomes & (outcomes - 1u); }

}  // namespace

Live all_of(std::span<const Hypothesis> hypotheses) {
  Live live;
  for (std::uint32_t h = 0; h < hypotheses.size(); ++h) live.add(h, hypotheses[h].weight);
  return live;
}

Live after(const Live& live, const Separator& test, unsigned outcome) {
  Live left;
  for (const Live::One& one : live.ones)
    left.add(one.hypothesis, one.weight * share(test.outcomes[one.hypothesis], outcome));
  return left;
}

double share(Outcomes outcomes, unsigned outcome) {
  if ((outcomes >> outcome & 1u) == 0) return 0;
  return without_lowest(outcomes) == 0 ? 1 : 1.0 / std::popcount(outcomes);
}

RemedyWeights::RemedyWeights(std::span<const Hypothesis> hypotheses) {
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

bool RemedyWeights::are_of_one_remedy(const Live& live) const {
  return std::all_of(live.ones.begin(), live.ones.end(), [&](const Live::One& one) {
    return place_[one.hypothesis] == place_[live.ones.front().hypothesis];
  });
}

double RemedyWeights::unscaled_entropy(const Live& live) {
  std::fill(undivided_.begin(), undivided_.end(), Undivided{});
  const double entropy = unscaled_entropy(live, [](const Live::One&) { return 1.0; });
  for (std::size_t r = 0; r < by_remedy_.size(); ++r) undivided_[r] = {by_remedy_[r], plogp(by_remedy_[r])};
  return entropy;
}

double RemedyWeights::unscaled_information(const Live& live, double entropy, const Separator& test) {
  unsigned all = 0, beyond_one = 0;
  for (const Live::One& one : live.ones) {
    all |= test.outcomes[one.hypothesis];
    beyond_one |= without_lowest(test.outcomes[one.hypothesis]);
  }
  // An outcome that all have tells nothing.
  if (without_lowest(all) == 0) return 0;
  if (beyond_one == 0 && without_lowest(without_lowest(all)) == 0)
    return unscaled_by_two(live, entropy, test);
  double left = entropy;
  for (; all != 0; all = without_lowest(all)) {
    const auto outcome = static_cast<unsigned>(std::countr_zero(all));
    left -= unscaled_entropy(
        live, [&](const Live::One& one) { return share(test.outcomes[one.hypothesis], outcome); });
  }
  return std::max(left, 0.0);
}

/// The same for two certain outcomes, in one go.
double RemedyWeights::unscaled_by_two(const Live& live, double entropy, const Separator& test) {
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
double RemedyWeights::unscaled_entropy(const Live& live, ShareOf&& share_of) {
  std::fill(by_remedy_.begin(), by_remedy_.end(), 0);
  double total = 0;
  for (const Live::One& one : live.ones) {
    const double weight = one.weight * share_of(one);
    by_remedy_[place_[one.hypothesis]] += weight;
    total += weight;
  }
  return plogp(total) - sum_of(by_remedy_);
}

double RemedyWeights::sum_of(const std::vector<double>& weights) const {
  double sum = 0;
  for (std::size_t r = 0; r < weights.size(); ++r)
    if (weights[r] > 0) sum += weights[r] == undivided_[r].weight ? undivided_[r].plogp : plogp(weights[r]);
  return sum;
}

}  // namespace ringtrue
