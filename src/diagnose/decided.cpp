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

DecidedFindings decided_findings(const Decisions& decisions, const Findings& findings,
                                 const ConductionGraph& graph, const Readings& readings) {
  DecidedFindings made;
  const std::vector<std::size_t> standing = standing_decisions(decisions);
  if (standing.empty()) return made;
  std::unordered_map<std::string, DecidedFinding> today;
  const auto offer = [&](std::size_t cluster, const std::vector<Fault>& faults) {
    today.emplace(finding_name(faults, graph, readings), DecidedFinding{0, cluster, faults});
  };
  for (std::size_t c = 0; c < findings.clusters.size(); ++c)
    for (const Diagnosis& diagnosis : findings.clusters[c].diagnoses) {
      offer(c, diagnosis.faults);
      for (const std::vector<Fault>& other : diagnosis.equivalent) offer(c, other);
    }
  std::map<std::size_t, DecidedFinding> last;
  for (const std::size_t i : standing) {
    const auto found = today.find(decisions.rows[i].finding);
    if (found == today.end()) {
      made.gone.push_back(i);
      continue;
    }
    found->second.decision = i;
    last[found->second.cluster] = found->second;
  }
  for (auto& [cluster, decided] : last) made.open.push_back(std::move(decided));
  return made;
}

const DecidedFinding* decided_of(std::span<const DecidedFinding> decided, std::size_t cluster) {
  const auto found = std::find_if(decided.begin(), decided.end(),
                                  [&](const DecidedFinding& one) { return one.cluster == cluster; });
  return found == decided.end() ? nullptr : &*found;
}

}  // namespace ringtrue
