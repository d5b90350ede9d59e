#include "ringtrue/diagnose/diagnose.hpp"

#include <algorithm>

#include "candidates.hpp"
#include "classes.hpp"
#include "clusters.hpp"
#include "consistency.hpp"
#include "proof.hpp"
#include "search.hpp"

namespace ringtrue {

namespace {

class Diagnosing {
 public:
  Diagnosing(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison, const MeterSettings& meter,
             const DiagnoseOptions& options)
      : graph_(graph), readings_(readings), comparison_(comparison), meter_(meter), options_(options), landing_(graph, options.priors),
        consistency_(graph, readings, comparison, meter), candidates_(consistency_, landing_) {}

  Findings run() {
    explain_clusters();
    findings_.proven = proven_by_readings(graph_, readings_, comparison_, meter_);
    for (const Cluster& cluster : findings_.clusters)
      for (const Diagnosis& diagnosis : cluster.diagnoses)
        for (const ElementId e : elements_touched(diagnosis.faults, graph_)) findings_.proven[index(e)] = 0;
    findings_.channels = channel_results(graph_, readings_, comparison_, landing_, findings_);
    return std::move(findings_);
  }

 private:
  void explain_clusters() {
    if (comparison_.disagree == 0) return;
    std::vector<Scope> scopes = cluster(candidates_, consistency_, landing_);
    std::vector<Cluster> clusters;
    for (Scope& scope : scopes) clusters.push_back(explain_one(std::move(scope)));
    while (merge_masking(clusters)) {
    }
    findings_.clusters = std::move(clusters);
  }

  Cluster explain_one(Scope scope) {
    SearchResult found = explain(candidates_, consistency_, landing_, scope, options_);
    findings_.nodes_expanded += found.expanded;
    Cluster made;
    made.readings = std::move(scope);
    made.complete_up_to = options_.max_faults;
    made.cost_limit = found.cost_limit;
    made.diagnoses = merge_and_rank(std::move(found.explanations), landing_);
    return made;
  }

  /// Takes the likeliest explanation of every cluster together. If a reading then comes out impossible, two of them
  /// stand in each other's way: the clusters at its nets are explained again as one. True if any were.
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
      for (const std::size_t i : involved) joined.insert(joined.end(), clusters[i].readings.begin(), clusters[i].readings.end());
      std::sort(joined.begin(), joined.end());
      for (auto i = involved.rbegin(); i != involved.rend(); ++i) clusters.erase(clusters.begin() + static_cast<std::ptrdiff_t>(*i));
      Cluster merged = explain_one(std::move(joined));
      const auto at = std::find_if(clusters.begin(), clusters.end(), [&](const Cluster& c) { return c.readings > merged.readings; });
      clusters.insert(at, std::move(merged));
      return true;
    }
    return false;
  }

  /// Clusters whose likeliest explanation touches a net at rest of one of the probes.
  [[nodiscard]] std::vector<std::size_t> clusters_at(ReadingId reading, const std::vector<Cluster>& clusters) const {
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
  const MeterSettings& meter_;
  const DiagnoseOptions& options_;
  Landing landing_;
  Consistency consistency_;
  Candidates candidates_;
  Findings findings_;
};

}  // namespace

Findings diagnose(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison, const MeterSettings& meter,
                  const DiagnoseOptions& options) {
  return Diagnosing(graph, readings, comparison, meter, options).run();
}

}  // namespace ringtrue
