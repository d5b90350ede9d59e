// What doesn't conduct at rest, and what conducts through a resistance.
#include <algorithm>
#include <map>

#include "planner.hpp"

namespace ringtrue {

namespace {

/// Settings that may close a contact which is open at rest.
std::vector<std::string> settings_that_close(ElementId contact, const ConductionGraph& graph) {
  const Part& part = graph.netlist().parts[graph.origin(contact).row];
  const std::string mover(part.actuated_by.empty() ? part.part : part.actuated_by);
  if (part.closed_in.empty()) return {mover + "=operated"};
  std::vector<std::string> settings;
  for (const int position : part.closed_in)
    settings.push_back(mover + "=position " + std::to_string(position));
  return settings;
}

}  // namespace

void Planner::cover_operated() {
  std::map<std::string, std::vector<ElementId>> closed_by;
  for (const ElementId contact : graph_.contacts()) {
    if (graph_.is_on_at_rest(contact) ||
        graph_.netlist().parts[graph_.origin(contact).row].place == PartPlace::field)
      continue;
    want(contact);
    if (!is_wanted(contact)) continue;
    std::string closing;
    for (const std::string& setting : settings_that_close(contact, graph_)) {
      const auto parsed = parse_condition(setting, graph_.netlist());
      if (closing.empty() && parsed && View(graph_, overlay_of(*parsed, graph_).overlay).is_on(contact))
        closing = setting;
    }
    if (closing.empty())
      leave(contact, WhyNotCovered::not_operable, {});
    else
      closed_by[closing].push_back(contact);
  }
  for (const auto& [setting, contacts] : closed_by) cover_closed(setting, contacts);
  make_sure();
}

void Planner::cover_closed(const std::string& setting, const std::vector<ElementId>& contacts) {
  const auto parsed = parse_condition(setting, graph_.netlist());
  const std::uint32_t number = condition({setting, overlay_of(*parsed, graph_)});
  const View view(graph_, plan_.conditions[number].made.overlay);
  std::vector<PointId> ends;
  for (const ElementId contact : contacts) ends.push_back(graph_.end_a(contact));
  const Cover cover(view, ends, wanted_, spare_number_of_);
  add(number, view, cover, cover.readings());
  for (const ElementId contact : contacts)
    if (is_wanted(contact) && !cover.is_single(contact))
      leave(contact, WhyNotCovered::parallel, way_past(view, contact));
}

void Planner::cover_loads() {
  const View view(graph_, plan_.conditions.front().made.overlay);
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
    const ElementId load{i};
    if (graph_.is_hard(load) || !graph_.is_on_at_rest(load)) continue;
    want(load);
    if (is_wanted(load)) cover_load(load, view);
  }
}

/// Between the load's own points; one reading does for loads in parallel.
void Planner::cover_load(ElementId load, const View& view) {
  PlannedReading reading;
  reading.from = graph_.end_a(load), reading.to = graph_.end_b(load);
  reading.expected = Expected::ohms;
  if (view.net(reading.from) == view.net(reading.to)) return leave(load, WhyNotCovered::parallel, {});
  Probing probing;
  probing.from = reading.from, probing.to = reading.to;
  probing.method = Method::ohms;
  const auto shown = [&](const View& under) {
    return shown_ohms(expected_resistance(under, probing), options_.meter);
  };
  Overlay broken = view.overlay();
  broken.switch_off(graph_, load);
  const OhmInterval without = shown(View(graph_, broken));
  reading.ohms = shown(view);
  if (reading.ohms.hi == k_infinite_ohms)
    return leave(load,
                 graph_.interval(load).hi == k_infinite_ohms ? WhyNotCovered::value_not_stated
                                                             : WhyNotCovered::load_beside_load,
                 {});
  if (without.lo <= reading.ohms.hi) return leave(load, WhyNotCovered::load_beside_load, {});
  wanted_[index(load)] = 0;
  reading.polarity_matters = graph_.has_diodes();
  const auto same =
      std::find_if(plan_.readings.begin(), plan_.readings.end(), [&](const PlannedReading& one) {
        return one.condition == 0 && one.expected == Expected::ohms &&
               view.net(one.from) == view.net(reading.from) && view.net(one.to) == view.net(reading.to);
      });
  if (same != plan_.readings.end()) {
    same->proves.push_back(load);
    return;
  }
  reading.proves = {load};
  plan_.readings.push_back(std::move(reading));
}

}  // namespace ringtrue
