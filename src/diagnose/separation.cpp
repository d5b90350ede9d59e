#include "separation.hpp"

#include <algorithm>
#include <bit>
#include <map>

#include "certain_tests.hpp"
#include "look_ahead.hpp"
#include "remedy_weights.hpp"

namespace ringtrue {

namespace {

/// Tests that may leave open which outcome comes. For `effort_with`.
class UncertainTests {
 public:
  using Left = Live;

  UncertainTests(const Live& all, RemedyWeights& remedies, std::span<const Separator* const> tests)
      : all_(all), remedies_(remedies), tests_(tests) {}

  [[nodiscard]] const Live& all() const { return all_; }
  [[nodiscard]] double effort(std::size_t test) const { return tests_[test]->effort; }

  template <class Visit>
  void for_each_part(const Live& live, std::size_t test, Visit&& visit) {
    unsigned all = 0;
    for (const Outcomes one : tests_[test]->outcomes) all |= one;
    // What an either-outcome has left open, the same test would leave open again.
    taken_.push_back(test);
    for (; all != 0; all &= all - 1)
      visit(after(live, *tests_[test], static_cast<unsigned>(std::countr_zero(all))));
    taken_.pop_back();
  }

  template <class WorkOut>
  [[nodiscard]] double once(const Live&, std::size_t, WorkOut&& work_out) const {
    return work_out();
  }

  [[nodiscard]] std::optional<std::size_t> best_by_one_step(const Live& live) {
    if (remedies_.are_of_one_remedy(live)) return std::nullopt;
    const double entropy = remedies_.unscaled_entropy(live);
    // No test tells more than there is to be found out.
    constexpr double k_rounding = 1 + 1e-9;
    const double most_bits = entropy / all_.total * k_rounding;
    BestOfScores best;
    for (std::size_t i = 0; i < tests_.size(); ++i) {
      if (!best.may_beat(most_bits, effort(i))) continue;
      if (std::find(taken_.begin(), taken_.end(), i) != taken_.end()) continue;
      best.offer(i, remedies_.unscaled_information(live, entropy, *tests_[i]) / all_.total, effort(i));
    }
    return best.best();
  }

 private:
  const Live& all_;
  RemedyWeights& remedies_;
  std::span<const Separator* const> tests_;
  std::vector<std::size_t> taken_;  ///< on the way that is looked along
};

class Choosing {
 public:
  Choosing(std::span<const Hypothesis> hypotheses, std::span<const Separator> tests)
      : hypotheses_(hypotheses), all_(all_of(hypotheses)), tests_(tests), remedies_(hypotheses) {}

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
    double score;
  };

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
        useful_.push_back({i, score_of(bits, tests_[i].effort)});
      else if (tests_[i].effort < tests_[useful_[useful].test].effort)
        useful_[useful] = {i, score_of(bits, tests_[i].effort)};
    }
  }

  /// The score becomes the expected effort to the end, negative, if the test is taken and then always the
  /// best by one step.
  void look_ahead() {
    std::vector<const Separator*> useful;
    for (const Useful& one : useful_) useful.push_back(&tests_[one.test]);
    useful_.resize(std::min(useful_.size(), k_most_tests_ahead));
    if (CertainTests::are_all(useful))
      look_ahead(CertainTests(hypotheses_, useful));
    else
      look_ahead(UncertainTests(all_, remedies_, useful));
  }

  template <class Tests>
  void look_ahead(Tests tests) {
    for (std::size_t i = 0; i < useful_.size(); ++i)
      useful_[i].score = score_of(-effort_with(tests, i, tests.all()), all_.total);
  }

  std::span<const Hypothesis> hypotheses_;
  const Live all_;
  std::span<const Separator> tests_;
  RemedyWeights remedies_;
  std::vector<Useful> useful_;
};

}  // namespace

double entropy(std::span<const Hypothesis> hypotheses) {
  const Live live = all_of(hypotheses);
  return RemedyWeights(hypotheses).unscaled_entropy(live) / live.total;
}

double information(std::span<const Hypothesis> hypotheses, const Separator& test) {
  return InformationOf(hypotheses)(test);
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
