#include "ringtrue/power/before.hpp"

#include <algorithm>
#include <functional>

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
    for (const ConditionOverlay& made : comparison.conditions.overlays)
      views_.emplace_back(graph, made.overlay);
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
      const View& view = views_[readings_.rows[r].condition];
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
  std::vector<View> views_;
};

}  // namespace

}  // namespace power

BeforePower before_power(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
                         const Findings& findings, std::vector<const Event*> open_changes) {
  const power::Before before(graph, readings, comparison);
  BeforePower found;
  before.protective_conductor(findings, found);
  before.potentials_apart(found);
  before.insulation(found);
  found.contradictions = findings.clusters.size() + comparison.unstable;
  found.open_changes = std::move(open_changes);
  return found;
}

}  // namespace ringtrue
