#include "ringtrue/diagnose/next.hpp"

#include <algorithm>
#include <set>
#include <unordered_map>

#include "next_candidates.hpp"
#include "next_points.hpp"
#include "prediction.hpp"
#include "remedies.hpp"
#include "separation.hpp"

namespace ringtrue {

std::string_view word(NextState state) {
  switch (state) {
    case NextState::unexplained:
      return "unexplained";
    case NextState::one_explanation:
      return "one-explanation";
    case NextState::one_remedy:
      return "one-remedy";
    case NextState::inseparable:
      return "inseparable";
    case NextState::reading:
      return "reading";
  }
  return {};
}

namespace {

/// Of the other clusters near one, so many at most count as explained by their likeliest diagnosis.
constexpr std::size_t k_most_besides = 16;

class Choosing {
 public:
  Choosing(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
           const Findings& findings, const NextOptions& options)
      : graph_(graph),
        readings_(readings),
        comparison_(comparison),
        clusters_(findings.clusters),
        options_(options),
        taken_(graph, comparison) {
    for (std::size_t i = 0; i < clusters_.size(); ++i)
      if (!clusters_[i].diagnoses.empty())
        for (const NetId net : nets_of(clusters_[i].diagnoses.front())) clusters_on_[net].push_back(i);
  }

  [[nodiscard]] NextReading run(std::size_t number) const {
    const Cluster& cluster = clusters_[number];
    NextReading next;
    if (cluster.diagnoses.empty()) return next;
    next.state = NextState::one_explanation;
    if (cluster.diagnoses.size() == 1) return next;
    const std::size_t live = std::min(cluster.diagnoses.size(), options_.max_diagnoses);
    const auto diagnoses = std::span(cluster.diagnoses).first(live);
    const std::vector<Hypothesis> hypotheses = hypotheses_of(diagnoses);
    next.state = NextState::one_remedy;
    next.bits_open = entropy(hypotheses);
    const auto is_same = [&](const Hypothesis& one) { return one.remedy == hypotheses.front().remedy; };
    if (std::all_of(hypotheses.begin(), hypotheses.end(), is_same)) return next;
    choose(number, diagnoses, hypotheses, next);
    return next;
  }

 private:
  [[nodiscard]] std::vector<Hypothesis> hypotheses_of(std::span<const Diagnosis> diagnoses) const {
    constexpr double k_least_weight = 1e-12;
    const std::vector<std::uint32_t> remedies = remedies_of(diagnoses, graph_);
    std::vector<Hypothesis> hypotheses;
    for (std::size_t d = 0; d < diagnoses.size(); ++d)
      hypotheses.push_back({std::max(diagnoses[d].probability, k_least_weight), remedies[d]});
    return hypotheses;
  }

  void choose(std::size_t number, std::span<const Diagnosis> diagnoses,
              const std::vector<Hypothesis>& hypotheses, NextReading& next) const {
    Prediction prediction(graph_, readings_, comparison_, diagnoses, besides(number, diagnoses),
                          clusters_[number], taken_);
    prediction.setups =
        setups_of(clusters_[number].readings, graph_, readings_, comparison_, options_.efforts);
    const std::vector<TriedReading> tried =
        CandidateReadings(graph_, readings_, comparison_, diagnoses, hypotheses, prediction, options_)
            .gather();
    std::vector<Separator> tests;
    for (const TriedReading& one : tried) tests.push_back(one.test);
    const auto best = best_test(hypotheses, tests);
    next.state = best ? NextState::reading : NextState::inseparable;
    if (!best) return;
    const TriedReading& chosen = tried[*best];
    next.from = chosen.candidate.from, next.to = chosen.candidate.to;
    next.again = chosen.candidate.again;
    next.in_ohms = chosen.candidate.in_ohms;
    next.conditions = prediction.setups[chosen.candidate.setup].text;
    next.bits = information(hypotheses, chosen.test);
    next.effort = chosen.test.effort;
    next.outcomes = outcomes_of(chosen, hypotheses);
  }

  [[nodiscard]] static std::vector<NextOutcome> outcomes_of(const TriedReading& chosen,
                                                            const std::vector<Hypothesis>& hypotheses) {
    double total = 0;
    for (const Hypothesis& one : hypotheses) total += one.weight;
    std::vector<NextOutcome> outcomes;
    const std::size_t count = chosen.candidate.in_ohms ? chosen.ranges.size() : 2;
    for (unsigned i = 0; i < count; ++i) {
      NextOutcome outcome;
      outcome.beeps = !chosen.candidate.in_ohms && (k_beep >> i & 1u) != 0;
      if (chosen.candidate.in_ohms) outcome.ohms = chosen.ranges[i];
      const std::vector<Hypothesis> left = after(hypotheses, chosen.test, i);
      for (std::size_t d = 0; d < left.size(); ++d) {
        outcome.probability += left[d].weight;
        if (left[d].weight > 0) outcome.left.push_back({d, left[d].weight});
      }
      if (outcome.left.empty()) continue;
      for (NextOutcome::Left& one : outcome.left) one.probability /= outcome.probability;
      outcome.probability /= total;
      std::stable_sort(outcome.left.begin(), outcome.left.end(),
                       [](const auto& x, const auto& y) { return x.probability > y.probability; });
      outcomes.push_back(std::move(outcome));
    }
    return outcomes;
  }

  /// Nets at rest of the points that a diagnosis concerns.
  [[nodiscard]] std::vector<NetId> nets_of(const Diagnosis& diagnosis) const {
    std::vector<NetId> nets;
    for (const Fault& fault : diagnosis.faults)
      for (const PointId p : points_of(fault, graph_, comparison_)) nets.push_back(graph_.net_at_rest(p));
    std::sort(nets.begin(), nets.end());
    nets.erase(std::unique(nets.begin(), nets.end()), nets.end());
    return nets;
  }

  /// By diagnosis the faults of other clusters on the same nets, unless it explains those itself.
  [[nodiscard]] std::vector<std::vector<Fault>> besides(std::size_t number,
                                                        std::span<const Diagnosis> diagnoses) const {
    std::set<std::size_t> near;
    for (const Diagnosis& diagnosis : diagnoses)
      for (const NetId net : nets_of(diagnosis)) {
        const auto at = clusters_on_.find(net);
        if (at == clusters_on_.end()) continue;
        for (const std::size_t other : at->second)
          if (other != number && near.size() < k_most_besides) near.insert(other);
      }
    std::vector<std::vector<Fault>> faults(diagnoses.size());
    for (std::size_t d = 0; d < diagnoses.size(); ++d)
      for (const std::size_t other : near) {
        const std::vector<std::size_t>& also = diagnoses[d].also_explains;
        if (std::find(also.begin(), also.end(), other) != also.end()) continue;
        const std::vector<Fault>& theirs = clusters_[other].diagnoses.front().faults;
        faults[d].insert(faults[d].end(), theirs.begin(), theirs.end());
      }
    return faults;
  }

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  const std::vector<Cluster>& clusters_;
  const NextOptions& options_;
  ReadingsByNet taken_;
  std::unordered_map<NetId, std::vector<std::size_t>> clusters_on_;  ///< by net at rest
};

}  // namespace

std::vector<NextReading> next_readings(const ConductionGraph& graph, const Readings& readings,
                                       const Comparison& comparison, const Findings& findings,
                                       const NextOptions& options) {
  const Choosing choosing(graph, readings, comparison, findings, options);
  std::vector<NextReading> next(findings.clusters.size());
  for_each_index(options.threads, next.size(), [&](std::size_t i) { next[i] = choosing.run(i); });
  return next;
}

}  // namespace ringtrue
