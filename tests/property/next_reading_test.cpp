// How many readings the choice takes against the fewest possible. Random small panels with one or two faults
// are read at some pairs only, so that the readings leave several diagnoses. From each such start the choice
// is followed to its end, with all efforts equal and with those candidate readings alone whose outcome every
// diagnosis makes certain; the optimum over the same readings comes from trying every strategy (dynamic
// programming over sets of diagnoses). The predicted outcomes are checked against OracleBounds, which shares
// nothing with the engine but the model's types.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>
#include <deque>
#include <map>

#include "diagnose/next_candidates.hpp"
#include "tests/diagnose/universe.hpp"
#include "tests/support/netlist_text.hpp"
#include "tests/support/oracle_bounds.hpp"
#include "tests/support/random_panels.hpp"

namespace ringtrue::testing {
namespace {

constexpr double k_threshold = 30 * (1 + 1e-9);

/// Expected numbers of readings, weighted by the probability of the diagnoses they are over.
class Strategies {
 public:
  Strategies(std::vector<Hypothesis> hypotheses, std::vector<Separator> tests)
      : hypotheses_(std::move(hypotheses)), tests_(std::move(tests)) {}

  using Set = std::uint32_t;
  [[nodiscard]] Set all() const { return (Set{1} << hypotheses_.size()) - 1; }

  /// As `best_test` chooses.
  [[nodiscard]] double followed(Set live) const {
    std::vector<Hypothesis> left;
    std::vector<Separator> tests(tests_.size());
    for_each(live, [&](std::size_t h) {
      left.push_back(hypotheses_[h]);
      for (std::size_t t = 0; t < tests.size(); ++t) tests[t].outcomes.push_back(tests_[t].outcomes[h]);
    });
    const auto best = best_test(left, tests);
    if (!best) return 0;
    double readings = weight(live);
    for (const Set part : parts(live, tests_[*best])) readings += followed(part);
    return readings;
  }

  [[nodiscard]] double fewest(Set live) {
    if (const auto known = fewest_.find(live); known != fewest_.end()) return known->second;
    double least = 0;
    for (const Separator& test : tests_) {
      const std::vector<Set> split = parts(live, test);
      // What tells next to nothing isn't read: the choice stops there as well.
      if (split.size() < 2 || entropy_of(split) < k_least_bits) continue;
      double readings = weight(live);
      for (const Set part : split) readings += fewest(part);
      if (least == 0 || readings < least) least = readings;
    }
    return fewest_[live] = least;
  }

  /// Entropy of the priors as far as the tests can tell diagnoses apart.
  [[nodiscard]] double entropy_told() const {
    std::map<std::vector<Outcomes>, double> groups;
    for (std::size_t h = 0; h < hypotheses_.size(); ++h) {
      std::vector<Outcomes> shown;
      for (const Separator& test : tests_) shown.push_back(test.outcomes[h]);
      groups[shown] += hypotheses_[h].weight;
    }
    double sum = 0;
    for (const auto& [shown, share] : groups) sum -= share / weight(all()) * std::log2(share / weight(all()));
    return sum;
  }

  [[nodiscard]] double weight(Set live) const {
    double sum = 0;
    for_each(live, [&](std::size_t h) { sum += hypotheses_[h].weight; });
    return sum;
  }

 private:
  template <class Visit>
  void for_each(Set live, Visit&& visit) const {
    for (std::size_t h = 0; h < hypotheses_.size(); ++h)
      if ((live >> h & 1u) != 0) visit(h);
  }
  [[nodiscard]] std::vector<Set> parts(Set live, const Separator& test) const {
    std::map<Outcomes, Set> by_outcome;
    for_each(live, [&](std::size_t h) { by_outcome[test.outcomes[h]] |= Set{1} << h; });
    std::vector<Set> sets;
    for (const auto& [outcome, set] : by_outcome) sets.push_back(set);
    return sets;
  }

  [[nodiscard]] double entropy_of(const std::vector<Set>& split) const {
    double sum = 0, total = 0;
    for (const Set part : split) total += weight(part);
    for (const Set part : split) sum -= weight(part) / total * std::log2(weight(part) / total);
    return sum;
  }

  std::vector<Hypothesis> hypotheses_;
  std::vector<Separator> tests_;
  std::map<Set, double> fewest_;
};

/// A random panel with faults, read at some pairs of points.
class ReadPanel {
 public:
  explicit ReadPanel(unsigned seed) : net_(netlist(random_small_panel(seed))), graph_(net_), random_(seed) {
    readings_.conditions = {"", "K1=operated"};
    readings_.condition_lines = {1, 1};
    take_readings();
    comparison_ = compare(graph_, readings_, {}).value();
    DiagnoseOptions options;
    options.max_faults = 2;
    findings_ = diagnose(graph_, readings_, comparison_, options);
  }

  /// One cluster, with two to twelve diagnoses.
  [[nodiscard]] bool is_ambiguous() const {
    if (findings_.clusters.size() != 1) return false;
    const std::size_t diagnoses = findings_.clusters.front().diagnoses.size();
    return diagnoses >= 2 && diagnoses <= 12;
  }

  /// The candidate readings with certain outcomes, each at the same effort.
  [[nodiscard]] Strategies strategies() {
    const std::vector<Diagnosis>& diagnoses = findings_.clusters.front().diagnoses;
    std::vector<Hypothesis> hypotheses;
    for (const Diagnosis& diagnosis : diagnoses)
      hypotheses.push_back({diagnosis.probability, static_cast<std::uint32_t>(hypotheses.size())});
    ReadingsByNet taken(graph_, comparison_);
    Prediction prediction(graph_, readings_, comparison_, diagnoses,
                          std::vector<std::vector<Fault>>(diagnoses.size()), findings_.clusters.front(),
                          taken);
    const NextOptions options;
    prediction.setups =
        setups_of(findings_.clusters.front().readings, graph_, readings_, comparison_, options.efforts);
    std::vector<Separator> certain;
    for (TriedReading& tried :
         CandidateReadings(graph_, readings_, comparison_, diagnoses, hypotheses, prediction, options)
             .gather()) {
      if (!tried.candidate.in_ohms) check_prediction(tried, prediction.setups[tried.candidate.setup]);
      const auto is_certain = [](Outcomes outcomes) { return (outcomes & (outcomes - 1)) == 0; };
      if (!std::all_of(tried.test.outcomes.begin(), tried.test.outcomes.end(), is_certain)) continue;
      certain.push_back({std::move(tried.test.outcomes), 1});
    }
    return {std::move(hypotheses), std::move(certain)};
  }

  [[nodiscard]] std::size_t predictions() const { return predictions_; }

 private:
  void take_readings() {
    const std::vector<Fault> universe = every_fault(graph_, Landing(graph_), false);
    OracleBounds built(net_);
    for (std::size_t count = 1 + random_() % 2; count > 0; --count)
      built.inject(universe[random_() % universe.size()]);
    for (std::size_t count = 8 + random_() % 12; count > 0; --count) {
      const auto p = static_cast<std::uint32_t>(random_() % graph_.point_count());
      const auto q = static_cast<std::uint32_t>(random_() % graph_.point_count());
      if (p == q) continue;
      Reading reading;
      reading.condition = static_cast<std::uint16_t>(random_() % 3 == 0 ? 1 : 0);
      reading.from = names_.emplace_back(net_.points.name(PointId{p}));
      reading.to = names_.emplace_back(net_.points.name(PointId{q}));
      // Of what may have been shown, one.
      const Outcomes shown = by_oracle(built, p, q, state_of(readings_.conditions[reading.condition]));
      const bool beeps = shown == (k_beep | k_silent) ? random_() % 2 == 0 : shown == k_beep;
      reading.value.kind = beeps ? ValueKind::beep : ValueKind::open;
      readings_.rows.push_back(reading);
    }
  }

  [[nodiscard]] Outcomes by_oracle(const OracleBounds& panel, std::uint32_t p, std::uint32_t q,
                                   const OracleState& state) const {
    const std::vector<OracleBounds::Item> present = panel.present(state);
    const OracleNetwork network(graph_.point_count() + 1, present);
    Outcomes outcomes = 0;
    if (network.lowest(p, q) <= k_threshold) outcomes |= k_beep;
    if (network.highest(p, q) > k_threshold) outcomes |= k_silent;
    return outcomes;
  }

  [[nodiscard]] OracleState state_of(const std::string& setting) const {
    using Kind = OracleState::Kind;
    const std::string object = setting.substr(0, setting.find('='));
    if (setting.ends_with("=operated")) return {Kind::operated, object, 0, false, setting};
    if (setting.ends_with("=out")) return {Kind::out, object, 0, false, setting};
    if (setting.ends_with("=unplugged")) return {Kind::unplugged, object, 0, false, setting};
    if (!setting.ends_with("=lifted")) return {};
    for (std::uint32_t i = 0; i < net_.conductors.size(); ++i)
      for (const bool from : {true, false}) {
        const Conductor& wire = net_.conductors[i];
        if (net_.conductor_name(i) + "@" + net_.points.name(from ? wire.from : wire.to) == object)
          return {Kind::lifted, object, i, from, setting};
      }
    return {};
  }

  /// Each diagnosis predicts what the oracle does; less only where a reading taken has decided.
  void check_prediction(const TriedReading& tried, const Setup& setup) {
    const std::vector<Diagnosis>& diagnoses = findings_.clusters.front().diagnoses;
    for (std::size_t d = 0; d < diagnoses.size(); ++d) {
      OracleBounds panel(net_);
      for (const Fault& fault : diagnoses[d].faults) panel.inject(fault);
      const Outcomes possible =
          by_oracle(panel, index(tried.candidate.from), index(tried.candidate.to), state_of(setup.text));
      const Outcomes predicted = tried.test.outcomes[d];
      EXPECT_TRUE(predicted == possible || (possible == (k_beep | k_silent) && setup.of_readings))
          << net_.points.name(tried.candidate.from) << " " << net_.points.name(tried.candidate.to) << " "
          << setup.text << ": " << text_of(diagnoses[d].faults.front(), graph_) << ", predicted " << predicted
          << ", possible " << possible;
      ++predictions_;
    }
  }

  Netlist net_;
  ConductionGraph graph_;
  std::mt19937 random_;
  std::deque<std::string> names_;
  Readings readings_;
  Comparison comparison_;
  Findings findings_;
  std::size_t predictions_ = 0;
};

TEST(NextReading, TakesFewMoreReadingsThanTheOptimum) {
  const unsigned seed = test_seed();
  constexpr std::size_t k_starts = 200;
  std::size_t starts = 0, diagnoses = 0, predictions = 0;
  double followed = 0, fewest = 0, entropy = 0, worst = 1;
  for (unsigned round = 0; starts < k_starts; ++round) {
    ASSERT_LT(round, 100 * k_starts);
    const unsigned own = 1'000'000 * seed + round;
    ReadPanel panel(own);
    if (!panel.is_ambiguous()) continue;
    Strategies strategies = panel.strategies();
    predictions += panel.predictions();
    if (HasFailure()) FAIL() << "panel " << own << "\n" << random_small_panel(own);
    const double total = strategies.weight(strategies.all());
    const double least = strategies.fewest(strategies.all()) / total;
    if (least == 0) continue;  // no candidate with a certain outcome tells anything
    const double taken = strategies.followed(strategies.all()) / total;
    EXPECT_GE(taken, least - 1e-9);
    followed += taken, fewest += least, entropy += strategies.entropy_told();
    worst = std::max(worst, taken / least);
    ++starts;
    for (Strategies::Set left = strategies.all(); left != 0; left >>= 1) ++diagnoses;
  }
  std::printf(
      "%zu starts with %.1f diagnoses on average: %.4f readings, optimum %.4f, ratio %.4f (worst start "
      "%.4f); "
      "entropy of the priors %.4f bit, ratio to it %.4f; %zu predictions as the oracle's\n",
      starts, static_cast<double>(diagnoses) / static_cast<double>(starts),
      followed / static_cast<double>(starts), fewest / static_cast<double>(starts), followed / fewest, worst,
      entropy / static_cast<double>(starts), followed / entropy, predictions);
  EXPECT_LE(followed, 1.1 * fewest);
}

}  // namespace
}  // namespace ringtrue::testing
