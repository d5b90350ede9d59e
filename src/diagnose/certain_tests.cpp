#include "certain_tests.hpp"

#include <algorithm>
#include <bit>
#include <iterator>
#include <limits>

#include "look_ahead.hpp"
#include "remedy_weights.hpp"

namespace ringtrue {

static_assert(k_most_to_look_ahead <= 64);

bool CertainTests::are_all(std::span<const Separator* const> tests) {
  return std::all_of(tests.begin(), tests.end(), [](const Separator* test) {
    return std::all_of(test->outcomes.begin(), test->outcomes.end(), is_certain);
  });
}

CertainTests::CertainTests(std::span<const Hypothesis> hypotheses, std::span<const Separator* const> tests) {
  const auto bit = [](std::size_t h) { return Set{1} << h; };
  for (std::size_t h = 0; h < hypotheses.size(); ++h) {
    all_.who |= bit(h);
    Set& same = same_remedy_.emplace_back();
    for (std::size_t other = 0; other < hypotheses.size(); ++other)
      if (hypotheses[other].remedy == hypotheses[h].remedy) same |= bit(other);
    const bool is_first = std::countr_zero(same) == static_cast<int>(h);
    if (is_first && same != bit(h)) shared_.push_back(same);
    auto& of_byte = weights_[h / k_bits_of_byte];
    const std::size_t value = std::size_t{1} << h % k_bits_of_byte;
    for (std::size_t lower = 0; lower < value; ++lower)
      of_byte[value + lower] = of_byte[lower] + hypotheses[h].weight;
  }
  all_.total = weight(all_.who);
  for (const Separator* test : tests) {
    std::array<Set, std::numeric_limits<Outcomes>::digits> by_outcome{};
    for (std::size_t h = 0; h < hypotheses.size(); ++h)
      by_outcome[static_cast<std::size_t>(std::countr_zero(test->outcomes[h]))] |= bit(h);
    Test& made = tests_.emplace_back(Test{{}, test->effort});
    std::copy_if(by_outcome.begin(), by_outcome.end(), std::back_inserter(made.parts),
                 [](Set part) { return part != 0; });
  }
}

double CertainTests::weight(Set who) const {
  double sum = 0;
  for (std::size_t byte = 0; who != 0; ++byte, who >>= k_bits_of_byte)
    sum += weights_[byte][who & (weights_[byte].size() - 1)];
  return sum;
}

bool CertainTests::are_of_one_remedy(Set who) const {
  return (who & ~same_remedy_[static_cast<std::size_t>(std::countr_zero(who))]) == 0;
}

bool CertainTests::is_parted(Set who, const Test& test) {
  return std::none_of(test.parts.begin(), test.parts.end(), [who](Set part) { return (who & ~part) == 0; });
}

double CertainTests::parted_plogp(Set who, const Test& test) const {
  double sum = 0;
  for (const Set part : test.parts) sum += plogp(weight(who & part));
  return sum;
}

/// Entropies are sums over remedies, and those that stay whole cancel out.
double CertainTests::unscaled_information(Set who, double plogp_of_all, const Test& test) const {
  double told = plogp_of_all - parted_plogp(who, test);
  for (const Set remedy : shared_) {
    const Set of_it = who & remedy;
    if (of_it != 0 && is_parted(of_it, test)) told -= plogp(weight(of_it)) - parted_plogp(of_it, test);
  }
  return told;
}

std::optional<std::size_t> CertainTests::best_by_one_step(const Left& left) const {
  if (are_of_one_remedy(left.who)) return std::nullopt;
  const double plogp_of_all = plogp(left.total);
  BestOfScores best;
  for (std::size_t i = 0; i < tests_.size(); ++i)
    if (is_parted(left.who, tests_[i]))
      best.offer(i, unscaled_information(left.who, plogp_of_all, tests_[i]) / all_.total, tests_[i].effort);
  return best.best();
}

}  // namespace ringtrue
