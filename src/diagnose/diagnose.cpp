#include "ringtrue/diagnose/diagnose.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "candidates.hpp"
#include "classes.hpp"
#include "clusters.hpp"
#include "consistency.hpp"
#include "costs.hpp"
#include "proof.hpp"
#include "ringtrue/expect/currents.hpp"
#include "search.hpp"

namespace ringtrue {

namespace {

class Diagnosing {
 public:
  Diagnosing(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
             const DiagnoseOptions& options)
      : graph_(graph),
        readings_(readings),
        comparison_(comparison),
        options_(options),
        landing_(graph, comparison.conditions.overlays),
        costs_(landing_, options.priors),
        reading_costs_(landing_, comparison, readings, options.priors),
        consistency_(graph, readings, comparison),
        candidates_(consistency_, landing_, costs_, reading_costs_) {}

  Findings run() {
    explain_clusters();
    findings_.proven = proven_by_readings(graph_, readings_, comparison_);
    withdraw_what_is_suspect();
    findings_.channels = channel_results(graph_, readings_, comparison_, landing_, findings_);
    return std::move(findings_);
  }

 private:
  /// Nothing that a diagnosis moves, opens or exchanges counts as proven, as long as the diagnosis is at
  /// least `least_share` as likely as the likeliest of its cluster.
  void withdraw_what_is_suspect() {
    for (const Cluster& cluster : findings_.clusters)
      for (const Diagnosis& diagnosis : cluster.diagnoses)
        if (diagnosis.probability >= options_.least_share * cluster.diagnoses.front().probability)
          for (const ElementId e : elements_touched(diagnosis.faults)) findings_.proven[index(e)] = 0;
  }

  void explain_clusters() {
    if (comparison_.disagree == 0) return;
    if (options_.joint) {
      findings_.clusters.push_back(explain_one(all_disagreements(comparison_)));
      explain_values(findings_.clusters.front());
      return;
    }
    Clustering found = cluster(candidates_, consistency_, costs_, options_);
    std::vector<Cluster> clusters;
    for (Scope& scope : found.scopes)
      for (Cluster& one : split(explain_one(std::move(scope)))) clusters.push_back(std::move(one));
    sort_by_first_reading(clusters);
    while (merge_masking(clusters)) {
    }
    findings_.clusters = std::move(clusters);
    add_faults_across(found.faults_across);
    for (Cluster& cluster : findings_.clusters) explain_values(cluster);
  }

  /// Lists a fault that explains several clusters in each of them, at what it costs beside explaining the
  /// others apart.
  void add_faults_across(const std::vector<Candidate>& faults) {
    std::map<std::vector<std::size_t>, std::vector<Explanation>> by_clusters;
    for (const Candidate& one : faults)
      if (std::vector<std::size_t> explained = clusters_explained_by(one.fault); explained.size() > 1)
        by_clusters[std::move(explained)].push_back({{one.fault}, one.cost});
    std::vector<double> best;
    for (const Cluster& cluster : findings_.clusters)
      best.push_back(cluster.diagnoses.empty() ? 0 : cluster.diagnoses.front().cost);
    for (auto& [explained, explanations] : by_clusters) {
      Scope scope;
      double apart = 0;
      for (const std::size_t c : explained) {
        const Scope& own = findings_.clusters[c].readings;
        scope.insert(scope.end(), own.begin(), own.end());
        apart += best[c];
      }
      std::sort(scope.begin(), scope.end());
      add_doubts(explanations, consistency_, scope);
      std::erase_if(explanations, [&](const Explanation& e) {
        return e.cost > apart - std::log(options_.least_share) || !consistency_.explains(e.items, scope);
      });
      for (const Diagnosis& made : merge(std::move(explanations), landing_, ohms_were_read(scope)))
        for (const std::size_t c : explained) {
          Diagnosis& listed = findings_.clusters[c].diagnoses.emplace_back(made);
          listed.cost -= apart - best[c];
          listed.also_explains = explained;
          std::erase(listed.also_explains, c);
        }
    }
    for (Cluster& cluster : findings_.clusters) rank(cluster.diagnoses);
  }

  [[nodiscard]] std::vector<std::size_t> clusters_explained_by(const Fault& fault) const {
    std::vector<std::size_t> explained;
    for (std::size_t c = 0; c < findings_.clusters.size(); ++c) {
      const Scope& scope = findings_.clusters[c].readings;
      if (!findings_.clusters[c].diagnoses.empty() && std::all_of(scope.begin(), scope.end(), [&](ReadingId r) {
            return consistency_.explains_reading({&fault, 1}, r);
          }))
        explained.push_back(c);
    }
    return explained;
  }

  [[nodiscard]] bool ohms_were_read(const Scope& scope) const {
    return std::any_of(scope.begin(), scope.end(), [this](ReadingId reading) {
      return consistency_.probing(reading).value.kind == ValueKind::ohms;
    });
  }

  void explain_values(Cluster& cluster) {
    if (cluster.diagnoses.empty()) return;
    constexpr std::size_t k_most_ways = 4;
    Diagnosis& likeliest = cluster.diagnoses.front();
    for (const ReadingId reading : cluster.readings) {
      const Probing& probing = consistency_.probing(reading);
      if (probing.value.kind != ValueKind::ohms) continue;
      const Overlay with = consistency_.overlay(likeliest.faults, reading);
      const View view(graph_, with);
      ExplainedOhms explained{reading, expected_resistance(view, probing), {}};
      for (const Way& way : ways_between(view, probing, k_most_ways))
        explained.loads.push_back(loads_of(way, graph_));
      std::sort(explained.loads.begin(), explained.loads.end());
      likeliest.in_ohms.push_back(std::move(explained));
    }
  }

  Cluster explain_one(Scope scope) {
    SearchResult found = explain(candidates_, consistency_, costs_, scope, options_);
    findings_.nodes_expanded += found.expanded;
    Cluster made;
    made.readings = std::move(scope);
    made.complete_up_to = found.gave_up ? 0 : options_.max_faults;
    made.cost_limit = found.cost_limit;
    made.diagnoses = merge(std::move(found.explanations), landing_, ohms_were_read(made.readings));
    rank(made.diagnoses);
    return made;
  }

  /// Readings may have been linked by a fault that then explains nothing better than separate ones do. Where
  /// the faults of the likeliest explanation each account for readings of their own, those are clusters of
  /// their own, as long as explaining them apart costs no more.
  std::vector<Cluster> split(Cluster whole) {
    std::vector<Scope> scopes = scopes_by_fault(whole);
    std::vector<Cluster> parts;
    double cost = 0;
    for (Scope& scope : scopes) {
      parts.push_back(explain_one(std::move(scope)));
      if (parts.back().diagnoses.empty())
        cost = 1e300;
      else
        cost += parts.back().diagnoses.front().cost;
    }
    constexpr double k_same = 1e-9;
    if (parts.size() < 2 || cost > whole.diagnoses.front().cost + k_same) {
      parts.clear();
      parts.push_back(std::move(whole));
    }
    return parts;
  }

  /// Groups the readings by the faults that take part in explaining them: faults that explain one together,
  /// or each alone, stay together.
  [[nodiscard]] std::vector<Scope> scopes_by_fault(const Cluster& whole) const {
    if (whole.diagnoses.empty() || whole.diagnoses.front().faults.size() < 2) return {};
    const std::vector<Fault>& faults = whole.diagnoses.front().faults;
    std::vector<std::size_t> group(faults.size());
    for (std::size_t i = 0; i < group.size(); ++i) group[i] = i;
    const auto unite = [&](std::size_t into, std::size_t from) {
      const std::size_t old = group[from], kept = group[into];
      std::replace(group.begin(), group.end(), old, kept);
    };
    std::vector<std::size_t> fault_of(whole.readings.size());
    for (std::size_t r = 0; r < whole.readings.size(); ++r) {
      std::vector<std::size_t> takers;
      for (std::size_t i = 0; i < faults.size(); ++i)
        if (consistency_.explains_reading({&faults[i], 1}, whole.readings[r])) takers.push_back(i);
      if (takers.empty())
        for (std::size_t i = 0; i < faults.size(); ++i) takers.push_back(i);
      for (const std::size_t i : takers) unite(takers.front(), i);
      fault_of[r] = takers.front();
    }
    std::map<std::size_t, Scope> scopes;
    for (std::size_t r = 0; r < whole.readings.size(); ++r)
      scopes[group[fault_of[r]]].push_back(whole.readings[r]);
    std::vector<Scope> made;
    for (auto& [key, scope] : scopes) made.push_back(std::move(scope));
    return made;
  }

  static void sort_by_first_reading(std::vector<Cluster>& clusters) {
    std::sort(clusters.begin(), clusters.end(),
              [](const Cluster& x, const Cluster& y) { return x.readings < y.readings; });
  }

  /// Takes the likeliest explanation of every cluster together. If a reading then comes out impossible, two
  /// of them stand in each other's way: the clusters at its nets are explained again as one. True if any
  /// were.
  bool merge_masking(std::vector<Cluster>& clusters) {
    std::vector<Fault> together;
    Scope scope;
    for (const Cluster& cluster : clusters) {
      if (cluster.diagnoses.empty()) continue;
      const auto& faults = cluster.diagnoses.front().faults;
      together.insert(together.end(), faults.begin(), faults.end());
      scope.insert(scope.end(), cluster.readings.begin(), cluster.readings.end());
    }
    std::sort(scope.begin(), scope.end());
    for (const ReadingId reading : consistency_.mispredicted(together, scope)) {
      const std::vector<std::size_t> involved = clusters_at(reading, clusters);
      if (involved.size() < 2) continue;
      Scope joined;
      for (const std::size_t i : involved)
        joined.insert(joined.end(), clusters[i].readings.begin(), clusters[i].readings.end());
      std::sort(joined.begin(), joined.end());
      for (auto i = involved.rbegin(); i != involved.rend(); ++i)
        clusters.erase(clusters.begin() + static_cast<std::ptrdiff_t>(*i));
      clusters.push_back(explain_one(std::move(joined)));
      sort_by_first_reading(clusters);
      return true;
    }
    return false;
  }

  /// Clusters whose likeliest explanation touches a net at rest of one of the probes.
  [[nodiscard]] std::vector<std::size_t> clusters_at(ReadingId reading,
                                                     const std::vector<Cluster>& clusters) const {
    std::vector<std::size_t> involved;
    for (std::size_t i = 0; i < clusters.size(); ++i) {
      if (clusters[i].diagnoses.empty()) continue;
      const auto& faults = clusters[i].diagnoses.front().faults;
      const bool own = std::binary_search(clusters[i].readings.begin(), clusters[i].readings.end(), reading);
      if (own || consistency_.affects(faults, reading)) involved.push_back(i);
    }
    return involved;
  }

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  const DiagnoseOptions& options_;
  Landing landing_;
  Costs costs_;
  ReadingCosts reading_costs_;
  Consistency consistency_;
  Candidates candidates_;
  Findings findings_;
};

}  // namespace

Findings diagnose(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                  const DiagnoseOptions& options) {
  return Diagnosing(graph, readings, comparison, options).run();
}

}  // namespace ringtrue
