#include "fitted_value.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue::revise {

namespace {

class Fitting {
 public:
  Fitting(const Fault& wrong_value, std::span<const Fault> all_faults, const ConductionGraph& graph,
          const Readings& readings, const Comparison& comparison)
      : fault_(wrong_value),
        faults_(all_faults),
        graph_(graph),
        readings_(readings),
        comparison_(comparison) {
    by_condition_.resize(comparison.conditions.overlays.size());
    for (std::uint32_t i = 0; i < readings.rows.size(); ++i)
      if (comparison.standing[i] <= Standing::either && !is_set_aside(all_faults, ReadingId{i}))
        by_condition_[readings.rows[i].condition].push_back(i);
  }

  /// Leaves those that the value of the element doesn't make impossible, and gives the values to try.
  std::vector<Ohms> begin() {
    std::vector<Ohms> shown;
    const OhmInterval any = wrong_value_of(fault_, graph_);
    for (std::size_t c = 0; c < by_condition_.size(); ++c) {
      if (by_condition_[c].empty()) continue;
      const Overlay overlay = overlay_of(c, any);
      const View view(graph_, overlay);
      Judge judge(view);
      std::erase_if(by_condition_[c], [&](std::uint32_t i) { return !is_possible(judge, i); });
      for (const std::uint32_t i : by_condition_[c])
        if (comparison_.standing[i] == Standing::disagrees &&
            readings_.rows[i].value.kind == ValueKind::ohms && is_across(view, i))
          shown.push_back(Ohms{readings_.rows[i].value.number});
    }
    return shown;
  }

  [[nodiscard]] bool fits(Ohms value) const {
    const Part& part = graph_.netlist().parts[graph_.origin(fault_.element).row];
    constexpr double k_usual_pct = 10;
    const double tolerance = (std::isnan(part.tolerance_pct) ? k_usual_pct : part.tolerance_pct) / 100;
    const OhmInterval stated{Ohms{std::max(0.0, value.value * (1 - tolerance))},
                             Ohms{value.value * (1 + tolerance)}};
    for (std::size_t c = 0; c < by_condition_.size(); ++c) {
      if (by_condition_[c].empty()) continue;
      const Overlay overlay = overlay_of(c, stated);
      const View view(graph_, overlay);
      Judge judge(view);
      for (const std::uint32_t i : by_condition_[c])
        if (!is_possible(judge, i)) return false;
    }
    return true;
  }

 private:
  [[nodiscard]] Overlay overlay_of(std::size_t condition, OhmInterval of_element) const {
    Overlay overlay = comparison_.conditions.overlays[condition].overlay;
    for (const Fault& fault : faults_) apply(fault, graph_, overlay);
    overlay.replace_interval(graph_, fault_.element, of_element);
    return overlay;
  }
  [[nodiscard]] bool is_possible(Judge& judge, std::uint32_t reading) const {
    return judge.is_possible(comparison_.probings[reading], comparison_.meters.of(ReadingId{reading}));
  }
  [[nodiscard]] bool is_across(const View& view, std::uint32_t reading) const {
    const Probing& probing = comparison_.probings[reading];
    return std::minmax({view.net(probing.from), view.net(probing.to)}) ==
           std::minmax({view.net(view.end_a(fault_.element)), view.net(view.end_b(fault_.element))});
  }

  const Fault& fault_;
  std::span<const Fault> faults_;
  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  std::vector<std::vector<std::uint32_t>> by_condition_;  ///< readings that the value has to leave possible
};

}  // namespace

std::optional<Ohms> fitted_ohms(const Fault& wrong_value, std::span<const Fault> all_faults,
                                const ConductionGraph& graph, const Readings& readings,
                                const Comparison& comparison) {
  if (graph.netlist().parts[graph.origin(wrong_value.element).row].kind == PartKind::lamp)
    return std::nullopt;
  Fitting fitting(wrong_value, all_faults, graph, readings, comparison);
  for (const Ohms value : fitting.begin())
    if (fitting.fits(value)) return value;
  return std::nullopt;
}

}  // namespace ringtrue::revise
