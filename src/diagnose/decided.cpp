#include "ringtrue/diagnose/decided.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>
#include <utility>

namespace ringtrue {

namespace {

class Names {
 public:
  Names(const ConductionGraph& graph, const Readings& readings) : graph_(graph), readings_(readings) {}

  [[nodiscard]] std::string fault(const Fault& fault) const {
    const std::string kind = std::string(word(fault.kind)) + " ";
    switch (fault.kind) {
      case FaultKind::miswire:
        return kind + end(fault.element, fault.end) + " to " + point(fault.p);
      case FaultKind::swap:
        return kind + both(end(fault.element, fault.end), end(fault.element2, fault.end2));
      case FaultKind::shift: {
        const std::string places = fault.places == 0 ? "" : " by " + std::to_string(fault.places);
        return kind + both(point(fault.p), point(fault.q)) + places;
      }
      case FaultKind::short_circuit:
      case FaultKind::extra_bridge:
        return kind + both(point(fault.p), point(fault.q));
      case FaultKind::bad_reading:
        return kind + readings_.name(fault.reading);
      case FaultKind::wrong_contact:
        if (fault.element2 != ElementId::none)
          return kind + both(element(fault.element), element(fault.element2));
        return kind + element(fault.element);
      case FaultKind::wrong_value:
        return kind + element(fault.element) + (fault.above ? " no beep" : "");
      default:
        return kind + element(fault.element);
    }
  }

 private:
  static std::string both(std::string one, std::string other) {
    if (other < one) std::swap(one, other);
    return one + " and " + other;
  }
  [[nodiscard]] std::string point(PointId p) const { return graph_.netlist().points.name(p); }
  [[nodiscard]] std::string called(ElementId e) const {
    return std::string(graph_.element_kind_word(e)) + " " + graph_.element_name(e);
  }
  [[nodiscard]] std::string element(ElementId e) const {
    const std::string one = point(graph_.end_a(e)), other = point(graph_.end_b(e));
    return called(e) + " (" + std::min(one, other) + ", " + std::max(one, other) + ")";
  }
  [[nodiscard]] std::string end(ElementId e, End end) const {
    return called(e) + " " + point(end == End::a ? graph_.end_a(e) : graph_.end_b(e));
  }

  const ConductionGraph& graph_;
  const Readings& readings_;
};

}  // namespace

std::string finding_name(std::span<const Fault> faults, const ConductionGraph& graph,
                         const Readings& readings) {
  const Names names(graph, readings);
  std::set<std::string> all;
  for (const Fault& fault : faults) all.insert(names.fault(fault));
  std::string text;
  for (const std::string& one : all) text += (text.empty() ? "" : "; ") + one;
  return text;
}

namespace {

/// What has a role in the drawing, by element and by point.
class Roles {
 public:
  explicit Roles(const ConductionGraph& graph) : graph_(graph) {
    for (const Channel& channel : graph.netlist().channels)
      if (channel.role != Role::none)
        channel_points_.insert({channel.point, channel.field, channel.return_point, channel.common});
    channel_points_.erase(PointId::none);
  }
  [[nodiscard]] bool has(ElementId e) const {
    if (e == ElementId::none) return false;
    const auto [from, row] = graph_.origin(e);
    const Netlist& net = graph_.netlist();
    if (from == ElementOrigin::From::conductor) return net.conductors[row].role != Role::none;
    if (from == ElementOrigin::From::channel) return net.channels[row].role != Role::none;
    if (from == ElementOrigin::From::implied_terminal) return false;
    return net.parts[row].role != Role::none;
  }
  [[nodiscard]] bool has(PointId p) const {
    if (p == PointId::none) return false;
    const auto at = graph_.elements_at(p);
    return channel_points_.count(p) != 0 ||
           std::any_of(at.begin(), at.end(), [this](ElementId e) { return has(e); });
  }
  /// The element, or anything at its ends.
  [[nodiscard]] bool touches(ElementId e) const {
    return e != ElementId::none && (has(e) || has(graph_.end_a(e)) || has(graph_.end_b(e)));
  }

 private:
  const ConductionGraph& graph_;
  std::set<PointId> channel_points_;
};

}  // namespace

bool touches_role(std::span<const Fault> faults, const ConductionGraph& graph) {
  const Roles roles(graph);
  return std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
    const std::vector<LandedEnd> landed = landed_ends(fault, graph);
    return roles.touches(fault.element) || roles.touches(fault.element2) || roles.has(fault.p) ||
           roles.has(fault.q) || std::any_of(landed.begin(), landed.end(), [&](const LandedEnd& end) {
             return roles.touches(end.conductor) || roles.has(end.at);
           });
  });
}

namespace {

bool is_explained(const Decision& decision, const std::string& reading) {
  const std::vector<std::string_view> known = listed(decision.readings);
  return std::find(known.begin(), known.end(), reading) != known.end();
}

/// Readings came since that contradict the drawing too, and with them something else is likelier.
bool is_overtaken(const Decision& decision, const DecidedFinding& found, const Cluster& cluster,
                  const Readings& readings) {
  const Diagnosis& likeliest = cluster.diagnoses.front();
  const bool is_likeliest =
      found.faults == likeliest.faults || std::find(likeliest.equivalent.begin(), likeliest.equivalent.end(),
                                                    found.faults) != likeliest.equivalent.end();
  return !is_likeliest &&
         std::any_of(cluster.readings.begin(), cluster.readings.end(), [&](const ReadingId reading) {
           return !is_explained(decision, readings.name(reading));
         });
}

}  // namespace

DecidedFindings decided_findings(const Decisions& decisions, const Findings& findings,
                                 const ConductionGraph& graph, const Readings& readings) {
  DecidedFindings made;
  const std::vector<std::size_t> last = last_decisions(decisions);
  if (last.empty()) return made;
  std::unordered_map<std::string, std::vector<DecidedFinding>> today;
  const auto offer = [&](std::size_t cluster, const std::vector<Fault>& faults) {
    today[finding_name(faults, graph, readings)].push_back({0, cluster, faults});
  };
  for (std::size_t c = 0; c < findings.clusters.size(); ++c)
    for (const Diagnosis& diagnosis : findings.clusters[c].diagnoses) {
      offer(c, diagnosis.faults);
      for (const std::vector<Fault>& other : diagnosis.equivalent) offer(c, other);
    }
  // One set of faults may explain two findings apart: the one of the readings that the decision names is
  // meant.
  const auto stands_for = [&](const Decision& decision) -> const DecidedFinding* {
    const auto named = today.find(decision.finding);
    if (named == today.end() || decision.is_outdated) return nullptr;
    const auto meant =
        std::find_if(named->second.begin(), named->second.end(), [&](const DecidedFinding& one) {
          const std::vector<ReadingId>& all = findings.clusters[one.cluster].readings;
          return std::any_of(all.begin(), all.end(), [&](const ReadingId reading) {
            return is_explained(decision, readings.name(reading));
          });
        });
    const DecidedFinding& found = meant == named->second.end() ? named->second.front() : *meant;
    return is_overtaken(decision, found, findings.clusters[found.cluster], readings) ? nullptr : &found;
  };
  const auto is_withdrawn = [&](std::size_t decision) {
    return decisions.rows[decision].decision == DecisionKind::withdrawn;
  };
  std::map<std::size_t, DecidedFinding> of_cluster;
  for (const std::size_t i : last)
    if (const DecidedFinding* found = stands_for(decisions.rows[i]))
      of_cluster[found->cluster] = {i, found->cluster, found->faults};
    else if (!is_withdrawn(i))
      made.gone.push_back(i);
  for (auto& [cluster, decided] : of_cluster)
    if (!is_withdrawn(decided.decision)) made.open.push_back(std::move(decided));
  return made;
}

const DecidedFinding* decided_of(std::span<const DecidedFinding> decided, std::size_t cluster) {
  const auto found = std::find_if(decided.begin(), decided.end(),
                                  [&](const DecidedFinding& one) { return one.cluster == cluster; });
  return found == decided.end() ? nullptr : &*found;
}

}  // namespace ringtrue
