#include "ringtrue/power/before.hpp"

#include <algorithm>
#include <functional>
#include <set>

#include "power_state.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

namespace power {

namespace {

class Before {
 public:
  Before(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison)
      : graph_(graph), netlist_(graph.netlist()), readings_(readings), comparison_(comparison) {
    for (std::uint32_t i = 0; i < graph.element_count(); ++i)
      if (is_electronics(ElementId{i})) electronics_.push_back(ElementId{i});
    for (const ConditionOverlay& made : comparison.conditions.overlays) {
      views_.emplace_back(graph, made.overlay);
      find_parted(made.overlay);
    }
  }

  void protective_conductor(const Findings& findings, BeforePower& found) const {
    for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
      const ElementId e{i};
      if (!graph_.is_hard(e) || !graph_.is_on_at_rest(e) || !is_on_earth(graph_.end_a(e))) continue;
      ++found.protective;
      if (findings.proven[i] == 0) found.unproven_protective.push_back(e);
    }
    found.has_earth = std::any_of(netlist_.potentials.begin(), netlist_.potentials.end(),
                                  [](const Potential& p) { return p.kind == PotentialKind::pe; });
  }

  void potentials_apart(BeforePower& found) const {
    for (std::uint32_t i = 0; i < netlist_.potentials.size(); ++i)
      for (std::uint32_t j = i + 1; j < netlist_.potentials.size(); ++j) {
        const PointId a = netlist_.potentials[i].point, b = netlist_.potentials[j].point;
        if (graph_.net_at_rest(a) == graph_.net_at_rest(b)) continue;
        ++found.pairs;
        if (!is_shown(a, b, [&](ReadingId r) { return is_above_threshold(r); }))
          found.not_shown_apart.emplace_back(i, j);
      }
  }

  void insulation(BeforePower& found) const {
    for (std::uint32_t i = 0; i < netlist_.potentials.size(); ++i) {
      if (netlist_.potentials[i].kind != PotentialKind::ac_line) continue;
      ++found.lines;
      const bool is_insulated =
          std::any_of(netlist_.potentials.begin(), netlist_.potentials.end(), [&](const Potential& earth) {
            return earth.kind == PotentialKind::pe &&
                   is_shown(netlist_.potentials[i].point, earth.point,
                            [&](ReadingId r) { return shows_insulation(r); });
          });
      if (!is_insulated) found.not_insulated.push_back(i);
    }
  }

 private:
  /// Nets at rest of which the condition takes something away, with a fuse or a breaker: a reading there says
  /// nothing of what lies behind.
  void find_parted(const Overlay& condition) {
    std::set<NetId>& parted = parted_.emplace_back();
    for (const ElementChange& change : condition.changes())
      if (!change.on && graph_.is_hard(change.element) && graph_.is_on_at_rest(change.element))
        parted.insert(graph_.net_at_rest(graph_.end_a(change.element)));
  }
  [[nodiscard]] bool is_parted(PointId p, std::uint16_t condition) const {
    return parted_[condition].contains(graph_.net_at_rest(p));
  }

  [[nodiscard]] bool is_electronics(ElementId e) const {
    const ElementOrigin origin = graph_.origin(e);
    return origin.from == ElementOrigin::From::channel ||
           (origin.from == ElementOrigin::From::part &&
            netlist_.parts[origin.row].kind == PartKind::electronics);
  }

  [[nodiscard]] bool is_on_earth(PointId p) const {
    return std::any_of(netlist_.potentials.begin(), netlist_.potentials.end(), [&](const Potential& earth) {
      return earth.kind == PotentialKind::pe && graph_.net_at_rest(earth.point) == graph_.net_at_rest(p);
    });
  }

  [[nodiscard]] bool is_shown(PointId a, PointId b, const std::function<bool(ReadingId)>& shows) const {
    for (std::uint32_t r = 0; r < readings_.rows.size(); ++r) {
      const Standing standing = comparison_.standing[r];
      if (standing != Standing::agrees && standing != Standing::either) continue;
      const std::uint16_t condition = readings_.rows[r].condition;
      if (is_parted(a, condition) || is_parted(b, condition)) continue;
      const View& view = views_[condition];
      const NetId from = view.net(comparison_.probings[r].from), to = view.net(comparison_.probings[r].to);
      const bool is_between =
          (from == view.net(a) && to == view.net(b)) || (from == view.net(b) && to == view.net(a));
      if (is_between && shows(ReadingId{r})) return true;
    }
    return false;
  }

  [[nodiscard]] bool is_above_threshold(ReadingId r) const {
    const ReadingValue& value = readings_.rows[index(r)].value;
    switch (value.kind) {
      case ValueKind::open:
      case ValueKind::over_range:
        return true;
      case ValueKind::ohms:
        return Ohms{value.number} > comparison_.meters.of(r).threshold;
      default:
        return false;
    }
  }

  [[nodiscard]] bool shows_insulation(ReadingId r) const {
    const Reading& reading = readings_.rows[index(r)];
    const bool is_high =
        reading.value.kind == ValueKind::over_range ||
        (reading.value.kind == ValueKind::ohms && Ohms{reading.value.number} >= k_least_insulation);
    if (reading.method != Method::insulation || !is_high) return false;
    const View& view = views_[reading.condition];
    return std::none_of(electronics_.begin(), electronics_.end(), [&](ElementId e) { return view.is_on(e); });
  }

  const ConductionGraph& graph_;
  const Netlist& netlist_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::vector<ElementId> electronics_;  ///< rows of electronics, and those that channels were given
  std::vector<View> views_;             ///< by condition
  std::vector<std::set<NetId>> parted_;
};

/// Copper that becomes live step by step: between points that were live before or are now.
class LiveCopper {
 public:
  explicit LiveCopper(const ConductionGraph& graph)
      : graph_(graph), is_live_(graph.point_count(), 0), is_taken_(graph.element_count(), 0) {}

  [[nodiscard]] std::vector<ElementId> of(const PowerStep& step) {
    for (const auto* list : {&step.readings, &step.pins})
      for (const ExpectedVolts& each : *list) {
        if (!each.through.empty()) continue;
        is_live_[index(each.red)] = 1;
        for (const PointId p : each.also) is_live_[index(p)] = 1;
      }
    if (step.action == PowerAction::close) closed_.insert(step.device);
    std::vector<ElementId> live;
    for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
      const ElementId e{i};
      if (is_taken_[i] != 0 || !graph_.is_hard(e) || !graph_.is_on_at_rest(e) || is_left_open(e)) continue;
      if (is_live_[index(graph_.end_a(e))] == 0 || is_live_[index(graph_.end_b(e))] == 0) continue;
      is_taken_[i] = 1;
      live.push_back(e);
    }
    return live;
  }

 private:
  [[nodiscard]] bool is_left_open(ElementId e) const {
    const ElementOrigin origin = graph_.origin(e);
    if (origin.from != ElementOrigin::From::part) return false;
    const Part& part = graph_.netlist().parts[origin.row];
    return is_protective_device(part) && !closed_.contains(part.part);
  }

  const ConductionGraph& graph_;
  std::vector<std::uint8_t> is_live_, is_taken_;  ///< by point, by element
  std::set<std::string_view> closed_;
};

}  // namespace

}  // namespace power

BeforePower before_power(const ConductionGraph& graph, const PowerUp& power_up, const Readings& readings,
                         const Comparison& comparison, const Findings& findings,
                         std::vector<const Event*> open_changes) {
  const power::Before before(graph, readings, comparison);
  BeforePower found;
  power::LiveCopper copper(graph);
  for (const PowerStep& step : power_up.steps) {
    std::vector<ElementId>& unproven = found.unproven_live.emplace_back();
    for (const ElementId e : copper.of(step)) {
      ++found.live;
      if (findings.proven[index(e)] == 0) unproven.push_back(e);
    }
  }
  before.protective_conductor(findings, found);
  before.potentials_apart(found);
  before.insulation(found);
  found.contradictions = findings.clusters.size() + comparison.unstable;
  found.open_changes = std::move(open_changes);
  return found;
}

}  // namespace ringtrue
