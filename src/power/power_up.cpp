#include "ringtrue/power/power_up.hpp"

#include <algorithm>
#include <optional>

#include "steps.hpp"

namespace ringtrue {

std::string_view word(PowerAction action) {
  switch (action) {
    case PowerAction::always_live:
      return "always-live";
    case PowerAction::supply_on:
      return "supply-on";
    case PowerAction::close:
      return "close";
  }
  return {};
}

namespace power {

namespace {

std::vector<std::uint32_t> nets_with_all_closed(const ConductionGraph& graph,
                                                const std::vector<Device>& devices) {
  Switching all;
  for (const Device& device : devices) all.closed.insert(device.part);
  return nets_of(graph, conduction(graph, all)).of;
}

class Stages {
 public:
  explicit Stages(const ConductionGraph& graph)
      : graph_(graph),
        devices_(protective_devices(graph)),
        unplugged_(electronics(graph)),
        sources_(find_sources(graph, nets_with_all_closed(graph, devices_))),
        measuring_(graph, sources_, devices_, unplugged_),
        fed_at_(devices_.size(), k_not_fed),
        is_closed_(devices_.size(), false) {
    switching_.unplugged.insert(unplugged_.begin(), unplugged_.end());
  }

  [[nodiscard]] PowerUp plan() {
    const auto& origins = sources_.origins;
    if (std::any_of(origins.begin(), origins.end(), [](const Origin& o) { return o.fed == Fed::always; }))
      take(PowerAction::always_live, nullptr);
    switching_.supply_on = true;
    if (std::any_of(origins.begin(), origins.end(),
                    [](const Origin& o) { return o.fed == Fed::outside && o.volts != 0; }))
      take(PowerAction::supply_on, nullptr);
    for (std::size_t left = devices_.size(); left > 0; --left) close(next());
    finish();
    return std::move(plan_);
  }

 private:
  static constexpr std::size_t k_not_fed = 0;

  /// The device that was fed last, so that a branch is followed to its end; isolators before breakers before
  /// fuses, in the order of the drawing. Those that nothing feeds come last.
  [[nodiscard]] std::size_t next() const {
    const auto rank = [&](std::size_t i) {
      return devices_[i].kind == PartKind::isolator ? 0 : devices_[i].kind == PartKind::breaker ? 1 : 2;
    };
    std::size_t best = devices_.size();
    for (std::size_t i = 0; i < devices_.size(); ++i) {
      if (is_closed_[i]) continue;
      const bool is_better = best == devices_.size() || fed_at_[i] > fed_at_[best] ||
                             (fed_at_[i] == fed_at_[best] && rank(i) < rank(best));
      if (is_better) best = i;
    }
    return best;
  }

  void close(std::size_t device) {
    is_closed_[device] = true;
    switching_.closed.insert(devices_[device].part);
    take(PowerAction::close, &devices_[device]);
    plan_.steps.back().is_fed = fed_at_[device] != k_not_fed;
  }

  void take(PowerAction action, const Device* closed) {
    PowerStep step;
    step.action = action;
    if (closed != nullptr) {
      step.device = closed->part;
      step.kind = word(closed->kind);
      step.sheet = closed->sheet;
    }
    PowerState after(graph_, sources_, switching_);
    measuring_.measure(before_ ? &*before_ : nullptr, after, closed, step);
    plan_.steps.push_back(std::move(step));
    note_fed(after);
    before_.emplace(std::move(after));
  }

  void note_fed(const PowerState& state) {
    for (std::size_t i = 0; i < devices_.size(); ++i) {
      if (is_closed_[i] || fed_at_[i] != k_not_fed) continue;
      for (const ElementId pole : devices_[i].poles)
        if (state.is_fed(graph_.end_a(pole)) || state.is_fed(graph_.end_b(pole)))
          fed_at_[i] = plan_.steps.size();
    }
  }

  void finish() {
    for (const Device& device : devices_) plan_.devices.push_back(device.part);
    plan_.unplugged = unplugged_;
    for (const std::string_view part : unplugged_) plan_.plug_ins.push_back(plug_in(part));
    std::stable_sort(plan_.plug_ins.begin(), plan_.plug_ins.end(),
                     [last = plan_.steps.size()](const PlugIn& a, const PlugIn& b) {
                       return a.after_step.value_or(last) < b.after_step.value_or(last);
                     });
    for (std::size_t i = 0; i < sources_.origins.size(); ++i)
      if (sources_.origins[i].volts != 0 && !goes_live(sources_.origins[i].potential))
        plan_.never_live.push_back(sources_.origins[i].potential);
  }

  [[nodiscard]] bool goes_live(std::uint32_t potential) const {
    return std::any_of(plan_.steps.begin(), plan_.steps.end(), [&](const PowerStep& step) {
      return std::find(step.goes_live.begin(), step.goes_live.end(), potential) != step.goes_live.end();
    });
  }

  [[nodiscard]] PlugIn plug_in(std::string_view part) const {
    const PointTable& points = graph_.netlist().points;
    PlugIn made{part, std::nullopt, {}, supply_pins(graph_, part)};
    for (std::size_t s = 0; s < plan_.steps.size(); ++s)
      for (const ExpectedVolts& pin : plan_.steps[s].pins) {
        const auto is_own = [&](PointId p) {
          return part_of_place(points.place_name(points.place(p))) == part;
        };
        if (!is_own(pin.red) && !is_own(pin.black)) continue;
        made.after_step = s;
        made.pins.push_back(pin);
        std::erase_if(made.not_stated, [&](PointId p) {
          const NetId net = graph_.net_at_rest(p);
          return net == graph_.net_at_rest(pin.red) || net == graph_.net_at_rest(pin.black);
        });
      }
    return made;
  }

  const ConductionGraph& graph_;
  std::vector<Device> devices_;
  std::vector<std::string_view> unplugged_;
  Sources sources_;
  Measuring measuring_;
  std::vector<std::size_t> fed_at_;  ///< by device: steps taken when something live first stood before it
  std::vector<bool> is_closed_;      ///< by device
  Switching switching_;
  std::optional<PowerState> before_;
  PowerUp plan_;
};

}  // namespace

}  // namespace power

PowerUp plan_power_up(const ConductionGraph& graph) { return power::Stages(graph).plan(); }

}  // namespace ringtrue
