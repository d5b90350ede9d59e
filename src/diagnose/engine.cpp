#include "engine.hpp"

namespace ringtrue {

Engine::Engine(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
               const DiagnoseOptions& options)
    : graph_(graph),
      readings_(readings),
      comparison_(comparison),
      options_(options),
      landing_(graph, comparison.conditions.overlays),
      costs_(landing_, options_.priors),
      reading_costs_(landing_, comparison, readings, options_.priors),
      consistency_(graph, readings, comparison),
      candidates_(consistency_, landing_, costs_, reading_costs_),
      explaining_(consistency_, candidates_, landing_, costs_, options_),
      traces_(trace_channels(graph)) {}

void Engine::run() {
  explaining_.run();
  proven_ = proven_by_readings(graph_, readings_, comparison_);
  finish();
}

void Engine::add_last() {
  const ReadingId last{static_cast<std::uint32_t>(readings_.rows.size() - 1)};
  if (consistency_.add_last()) explaining_.forget();
  if (!explaining_.keeps(last)) explaining_.run();
  prove_by_last(consistency_, readings_, proven_);
  finish();
}

/// Nothing that a diagnosis moves, opens or exchanges counts as proven, as long as the diagnosis is at least
/// `least_share` as likely as the likeliest of its cluster.
void Engine::finish() {
  findings_.clusters = explaining_.clusters();
  findings_.conflicts = explaining_.conflicts();
  findings_.nodes_expanded = explaining_.expanded();
  findings_.nets_relabelled = consistency_.nets_relabelled();
  findings_.proven = proven_;
  for (const Cluster& cluster : findings_.clusters)
    for (const Diagnosis& diagnosis : cluster.diagnoses)
      if (diagnosis.probability >= options_.least_share * cluster.diagnoses.front().probability)
        for (const ElementId e : elements_touched(diagnosis.faults, graph_)) findings_.proven[index(e)] = 0;
  findings_.channels = channel_results(graph_, readings_, comparison_, landing_, traces_, findings_);
}

}  // namespace ringtrue
