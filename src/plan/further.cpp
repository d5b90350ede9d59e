// What doesn't conduct at rest, and what conducts through a resistance.
#include <algorithm>
#include <map>

#include "planner.hpp"
#include "ringtrue/expect/openers.hpp"

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

/// At rest where that tells; else with everything unplugged that has no known value, which is in parallel
/// with much.
void Planner::cover_loads() {
  std::vector<ElementId> loads;
  for (std::uint32_t i = 0; i < graph_.element_count(); ++i) {
    const ElementId load{i};
    if (graph_.is_hard(load) || !graph_.is_on_at_rest(load)) continue;
    want(load);
    if (is_wanted(load)) loads.push_back(load);
  }
  Parting unknown;
  for (const ElementId load : loads)
    if (graph_.interval(load).hi == k_infinite_ohms)
      for (const std::string& setting : settings_that_open(load, graph_, {}))
        if (std::find(unknown.pulled.begin(), unknown.pulled.end(), setting) == unknown.pulled.end())
          unknown.pulled.push_back(setting);
  const std::uint32_t alone = condition(condition_of(unknown, graph_));
  for (const std::uint32_t number : {0u, alone}) {
    const View view(graph_, plan_.conditions[number].made.overlay);
    for (const ElementId load : loads)
      if (is_wanted(load) && view.is_on(load)) cover_load(load, number, view);
  }
  for (const ElementId load : loads)
    if (is_wanted(load))
      leave(load,
            graph_.interval(load).hi == k_infinite_ohms ? WhyNotCovered::value_not_stated
                                                        : WhyNotCovered::load_beside_load,
            {});
}

/// Between the load's own points, whichever way round tells; one reading does for loads in parallel.
void Planner::cover_load(ElementId load, std::uint32_t condition, const View& view) {
  Overlay broken = view.overlay();
  broken.switch_off(graph_, load);
  const View without(graph_, broken);
  for (const bool is_turned : {false, true}) {
    PlannedReading reading;
    reading.from = graph_.end_a(load), reading.to = graph_.end_b(load);
    if (is_turned) std::swap(reading.from, reading.to);
    reading.condition = condition;
    reading.expected = Expected::ohms;
    reading.polarity_matters = graph_.has_diodes();
    const auto shown = [&](const View& under) {
      Probing probing;
      probing.from = reading.from, probing.to = reading.to;
      probing.method = Method::ohms;
      return shown_ohms(expected_resistance(under, probing), options_.meter);
    };
    reading.ohms = shown(view);
    if (reading.ohms.hi == k_infinite_ohms || shown(without).lo <= reading.ohms.hi) continue;
    wanted_[index(load)] = 0;
    reading.proves = {load};
    const auto same =
        std::find_if(plan_.readings.begin(), plan_.readings.end(), [&](const PlannedReading& one) {
          return one.condition == condition && one.expected == Expected::ohms &&
                 view.net(one.from) == view.net(reading.from) && view.net(one.to) == view.net(reading.to);
        });
    if (same != plan_.readings.end())
      same->proves.push_back(load);
    else
      plan_.readings.push_back(std::move(reading));
    return;
  }
}

}  // namespace ringtrue
