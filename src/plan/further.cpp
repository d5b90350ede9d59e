#include "further.hpp"

#include <algorithm>
#include <map>

#include "loops.hpp"
#include "ringtrue/expect/openers.hpp"

namespace ringtrue {

namespace {

void cover_closed(Draft& draft, const std::string& setting, const std::vector<ElementId>& contacts) {
  const ConductionGraph& graph = draft.graph;
  const auto parsed = parse_condition(setting, graph);
  const std::uint32_t number = draft.condition({setting, overlay_of(*parsed, graph)});
  const View view(graph, draft.plan.conditions[number].made.overlay);
  std::vector<PointId> ends;
  for (const ElementId contact : contacts) ends.push_back(graph.end_a(contact));
  const Cover cover(view, ends, draft.wanted, draft.spare_number_of);
  draft.add(number, view, cover, cover.readings());
  for (const ElementId contact : contacts)
    if (draft.is_wanted(contact) && !cover.is_single(contact))
      draft.leave(contact, WhyNotCovered::parallel, draft.way_past(view, contact));
}

/// Between the load's own points, whichever way round tells; one reading does for loads in parallel.
void cover_load(Draft& draft, ElementId load, std::uint32_t condition, const View& view) {
  const ConductionGraph& graph = draft.graph;
  Overlay broken = view.overlay();
  broken.switch_off(graph, load);
  const View without(graph, broken);
  for (const bool is_turned : {false, true}) {
    PlannedReading reading;
    reading.from = graph.end_a(load), reading.to = graph.end_b(load);
    if (is_turned) std::swap(reading.from, reading.to);
    reading.condition = condition;
    reading.expected = Expected::ohms;
    reading.polarity_matters = graph.has_diodes();
    const auto shown = [&](const View& under) {
      Probing probing;
      probing.from = reading.from, probing.to = reading.to;
      probing.method = Method::ohms;
      return shown_ohms(expected_resistance(under, probing), draft.options.meter);
    };
    reading.ohms = shown(view);
    if (reading.ohms.hi == k_infinite_ohms || shown(without).lo <= reading.ohms.hi) continue;
    draft.wanted[index(load)] = 0;
    reading.proves = {load};
    const auto same =
        std::find_if(draft.plan.readings.begin(), draft.plan.readings.end(), [&](const PlannedReading& one) {
          return one.condition == condition && one.expected == Expected::ohms &&
                 view.net(one.from) == view.net(reading.from) && view.net(one.to) == view.net(reading.to);
        });
    if (same != draft.plan.readings.end())
      same->proves.push_back(load);
    else
      draft.plan.readings.push_back(std::move(reading));
    return;
  }
}

}  // namespace

void cover_operated(Draft& draft) {
  const ConductionGraph& graph = draft.graph;
  std::map<std::string, std::vector<ElementId>> closed_by;
  for (const ElementId contact : graph.contacts()) {
    if (graph.is_on_at_rest(contact) ||
        graph.netlist().parts[graph.origin(contact).row].place == PartPlace::field)
      continue;
    draft.want(contact);
    if (!draft.is_wanted(contact)) continue;
    std::string closing;
    for (const std::string& setting : settings_that_close(contact, graph)) {
      const auto parsed = parse_condition(setting, graph);
      if (closing.empty() && parsed && View(graph, overlay_of(*parsed, graph).overlay).is_on(contact))
        closing = setting;
    }
    if (closing.empty())
      draft.leave(contact, WhyNotCovered::not_operable, {});
    else
      closed_by[closing].push_back(contact);
  }
  for (const auto& [setting, contacts] : closed_by) cover_closed(draft, setting, contacts);
}

void cover_loads(Draft& draft) {
  const ConductionGraph& graph = draft.graph;
  std::vector<ElementId> loads;
  for (std::uint32_t i = 0; i < graph.element_count(); ++i) {
    const ElementId load{i};
    if (graph.is_hard(load) || !graph.is_on_at_rest(load)) continue;
    draft.want(load);
    if (draft.is_wanted(load)) loads.push_back(load);
  }
  Parting unknown;
  for (const ElementId load : loads)
    if (graph.interval(load).hi == k_infinite_ohms)
      for (const std::string& setting : settings_that_open(load, graph, {}))
        if (std::find(unknown.pulled.begin(), unknown.pulled.end(), setting) == unknown.pulled.end())
          unknown.pulled.push_back(setting);
  const std::uint32_t alone = draft.condition(condition_of(unknown, graph));
  for (const std::uint32_t number : {0u, alone}) {
    const View view(graph, draft.plan.conditions[number].made.overlay);
    for (const ElementId load : loads)
      if (draft.is_wanted(load) && view.is_on(load)) cover_load(draft, load, number, view);
  }
  for (const ElementId load : loads)
    if (draft.is_wanted(load))
      draft.leave(load,
                  graph.interval(load).hi == k_infinite_ohms ? WhyNotCovered::value_not_stated
                                                             : WhyNotCovered::load_beside_load,
                  {});
}

}  // namespace ringtrue
