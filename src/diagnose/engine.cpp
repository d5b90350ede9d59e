#include "engine.hpp"

namespace ringtrue {

Engine::Engine(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
               const DiagnoseOptions& options)
    : graph_(graph),
      readings_(readings),
      comparison_(comparison),
      options_(options),
      own_(graph, readings, comparison, options_.priors, options_.threads),
      explaining_(own_, options_) {
  if (!graph.netlist().channels.empty()) tracer_.emplace(graph);
}

void Engine::explain_and_prove() {
  // What is proven doesn't rest on what explains the rest.
  for_each_index(options_.threads, 2, [this](std::size_t which) {
    if (which == 0)
      explaining_.run();
    else
      proven_ = proven_by_readings(graph_, readings_, comparison_, options_.threads);
  });
}

void Engine::run() {
  explain_and_prove();
  finish(explaining_.clusters(), proven_);
}

Findings Engine::run_once() && {
  explain_and_prove();
  finish(explaining_.take_clusters(), std::move(proven_));
  return std::move(findings_);
}

void Engine::add_last() {
  const ReadingId last{static_cast<std::uint32_t>(readings_.rows.size() - 1)};
  if (own_.consistency.add_last()) explaining_.forget();
  if (!explaining_.keeps(last)) explaining_.run();
  prove_by_last(own_.consistency, readings_, proven_);
  finish(explaining_.clusters(), proven_);
}

/// Nothing that a diagnosis moves, opens or exchanges counts as proven, as long as the diagnosis is at least
/// `least_share` as likely as the likeliest of its cluster.
void Engine::finish(std::vector<Cluster> clusters, std::vector<std::uint8_t> proven) {
  findings_.clusters = std::move(clusters);
  findings_.conflicts = explaining_.conflicts();
  findings_.nodes_expanded = explaining_.expanded();
  findings_.nets_relabelled = explaining_.nets_relabelled();
  findings_.proven = std::move(proven);
  for (const Cluster& cluster : findings_.clusters)
    for (const Diagnosis& diagnosis : cluster.diagnoses)
      if (diagnosis.probability >= options_.least_share * cluster.diagnoses.front().probability)
        for (const ElementId e : elements_touched(diagnosis.faults, graph_)) findings_.proven[index(e)] = 0;
  if (tracer_)
    findings_.channels =
        channel_results(graph_, readings_, comparison_, *tracer_, findings_, options_.threads);
}

}  // namespace ringtrue
