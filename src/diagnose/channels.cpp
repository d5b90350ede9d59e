#include <algorithm>
#include <set>

#include "proof.hpp"
#include "ringtrue/graph/trace.hpp"

namespace ringtrue {

std::string_view word(ChannelState state) {
  switch (state) {
    case ChannelState::proven:
      return "proven";
    case ChannelState::unproven:
      return "unproven";
    case ChannelState::faulty:
      return "faulty";
  }
  return {};
}

namespace {

/// Pairs of nets at rest that a current agreeing reading showed to be parted.
class PartedNets {
 public:
  PartedNets(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison) {
    std::vector<View> views;
    for (const ConditionOverlay& condition : comparison.conditions.overlays)
      views.emplace_back(graph, condition.overlay);
    for (std::size_t i = 0; i < readings.rows.size(); ++i) {
      const Probing& probing = comparison.probings[i];
      const bool open = probing.value.kind == ValueKind::open || probing.value.kind == ValueKind::over_range;
      if (comparison.standing[i] != Standing::agrees || !open) continue;
      const View& view = views[readings.rows[i].condition];
      if (index(probing.from) >= graph.point_count() || index(probing.to) >= graph.point_count()) continue;
      const NetId from = graph.net_at_rest(probing.from), to = graph.net_at_rest(probing.to);
      // A condition may have parted the probe from the rest of its net: the reading then says nothing about
      // that rest.
      if (!view.is_touched(from) && !view.is_touched(to)) pairs_.push_back(std::minmax({from, to}));
    }
    std::sort(pairs_.begin(), pairs_.end());
  }
  [[nodiscard]] bool hold(NetId a, NetId b) const {
    return std::binary_search(pairs_.begin(), pairs_.end(), std::pair(std::minmax({a, b})));
  }

 private:
  std::vector<std::pair<NetId, NetId>> pairs_;
};

class ChannelJudge {
 public:
  ChannelJudge(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
               const Findings& findings)
      : graph_(graph), findings_(findings), parted_(graph, readings, comparison) {
    for (std::size_t c = 0; c < findings.clusters.size(); ++c)
      for (const Diagnosis& diagnosis : findings.clusters[c].diagnoses)
        if (diagnosis.rank == 1) note_touched(c, diagnosis);
  }

  [[nodiscard]] ChannelResult result(const ChannelTrace& trace) const {
    ChannelResult result;
    std::set<std::size_t> clusters;
    bool complete = true;
    for (const TracedPath* path : {&trace.signal, &trace.return_path, &trace.common}) {
      complete = complete && path->verdict != PathVerdict::stops && path->verdict != PathVerdict::no_target;
      for (const ElementId e : path->elements) {
        if (findings_.proven[index(e)] == 0) result.unproven_elements.push_back(e);
        add_clusters(by_element_, e, clusters);
      }
    }
    add_clusters(by_net_, graph_.net_at_rest(graph_.netlist().channels[trace.channel].point), clusters);
    std::sort(result.unproven_elements.begin(), result.unproven_elements.end());
    result.unproven_elements.erase(
        std::unique(result.unproven_elements.begin(), result.unproven_elements.end()),
        result.unproven_elements.end());
    result.clusters.assign(clusters.begin(), clusters.end());
    const bool proven = complete && result.unproven_elements.empty();
    result.state = !clusters.empty() ? ChannelState::faulty
                   : proven          ? ChannelState::proven
                                     : ChannelState::unproven;
    result.isolated = is_isolated(trace.signal);
    return result;
  }

 private:
  void note_touched(std::size_t cluster, const Diagnosis& diagnosis) {
    for (const ElementId e : elements_touched(diagnosis.faults, graph_)) by_element_.emplace(e, cluster);
    for (const Fault& fault : diagnosis.faults)
      for (const PointId p : {fault.p, fault.q}) {
        if (p == PointId::none) continue;
        // What is landed on or joined to a path's point touches the path there, and a channel's own net
        // wherever it sits.
        for (const ElementId e : graph_.elements_at(p)) by_element_.emplace(e, cluster);
        by_net_.emplace(graph_.net_at_rest(p), cluster);
      }
  }
  template <class Key>
  static void add_clusters(const std::set<std::pair<Key, std::size_t>>& index_of, Key key,
                           std::set<std::size_t>& clusters) {
    for (auto at = index_of.lower_bound({key, 0}); at != index_of.end() && at->first == key; ++at)
      clusters.insert(at->second);
  }

  /// Every neighbour of a point on the path that is on another net was read open against it.
  [[nodiscard]] bool is_isolated(const TracedPath& path) const {
    if (path.points.empty()) return false;
    for (const PointId p : path.points)
      for (const PointId q : graph_.beside(p)) {
        if (q == PointId::none) continue;
        const NetId own = graph_.net_at_rest(p), other = graph_.net_at_rest(q);
        if (own != other && !parted_.hold(own, other)) return false;
      }
    return true;
  }

  const ConductionGraph& graph_;
  const Findings& findings_;
  PartedNets parted_;
  std::set<std::pair<ElementId, std::size_t>> by_element_;
  std::set<std::pair<NetId, std::size_t>> by_net_;
};

}  // namespace

std::vector<ChannelResult> channel_results(const ConductionGraph& graph, const Readings& readings,
                                           const Comparison& comparison, const ChannelTracer& tracer,
                                           const Findings& findings, Threads threads) {
  std::vector<ChannelResult> results(graph.netlist().channels.size());
  const ChannelJudge judge(graph, readings, comparison, findings);
  tracer.trace_all(threads, [&](const ChannelTrace& trace) { results[trace.channel] = judge.result(trace); });
  return results;
}

}  // namespace ringtrue
