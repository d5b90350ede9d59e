#include "ringtrue/graph/overlay.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "conduction.hpp"

namespace ringtrue {

ElementChange& Overlay::change(const ConductionGraph& graph, ElementId e) {
  const auto before = [](const ElementChange& c, ElementId id) { return c.element < id; };
  auto at = std::lower_bound(changes_.begin(), changes_.end(), e, before);
  if (at == changes_.end() || at->element != e)
    at =
        changes_.insert(at, {e, graph.is_on_at_rest(e), false, graph.end_a(e), graph.end_b(e), std::nullopt});
  return *at;
}

void Overlay::take_out(const ConductionGraph& graph, ElementId e) {
  ElementChange& changed = change(graph, e);
  changed.on = false;
  changed.taken_out = true;
}

void Overlay::invert(const ConductionGraph& graph, ElementId e) {
  ElementChange& changed = change(graph, e);
  changed.on = !changed.on && !changed.taken_out;
}

const ElementChange* Overlay::find(ElementId e) const {
  const auto before = [](const ElementChange& c, ElementId id) { return c.element < id; };
  const auto at = std::lower_bound(changes_.begin(), changes_.end(), e, before);
  return at != changes_.end() && at->element == e ? &*at : nullptr;
}

void Overlay::move_end(const ConductionGraph& graph, ElementId e, End end, PointId to) {
  ElementChange& changed = change(graph, e);
  (end == End::a ? changed.a : changed.b) = to;
}

void Overlay::turn_round(const ConductionGraph& graph, ElementId e) {
  ElementChange& changed = change(graph, e);
  std::swap(changed.a, changed.b);
}

PointId Overlay::add_loose_point(const ConductionGraph& graph) {
  return PointId{graph.point_count() + loose_points_++};
}

namespace {

void set_part(const Setting& setting, std::uint32_t row, const ConductionGraph& graph, Overlay& overlay) {
  const Part& part = graph.netlist().parts[row];
  const ElementId e = graph.element_of_part(row);
  bool on = false;
  switch (setting.state) {
    // Operating a part that is absent (field) moves nothing that could conduct.
    case State::operated:
      on = part.kind == PartKind::contact_no && part.place != PartPlace::field;
      break;
    case State::position:
      on = conducts_in_position(part, setting.position) && part.place != PartPlace::field;
      break;
    case State::on:
      on = true;
      break;
    default:
      return overlay.take_out(graph, e);
  }
  if (on)
    overlay.switch_on(graph, e);
  else
    overlay.switch_off(graph, e);
}

/// Unplugging a module also takes the electronics that its channels were given and the rail joint of its
/// terminals.
void unplug_implied(const Setting& setting, const ConductionGraph& graph, Overlay& overlay) {
  const PointTable& points = graph.netlist().points;
  for (std::uint32_t i = graph.conductor_count(); i < graph.element_count(); ++i) {
    const ElementId e{i};
    if (graph.origin(e).from != ElementOrigin::From::channel) continue;
    const std::string_view part = part_of_place(points.place_name(points.place(graph.end_a(e))));
    const std::string object = setting.object.substr(0, setting.object.rfind('='));
    std::string storage;
    const std::string_view name = split_point_name(object, graph.netlist().panel.designation, storage).place;
    if (part == name || (part.starts_with(name) && part[name.size()] == '.')) overlay.take_out(graph, e);
  }
}

void connect_field(const ConductionGraph& graph, Overlay& overlay) {
  const Netlist& net = graph.netlist();
  for (std::uint32_t i = 0; i < graph.conductor_count(); ++i)
    if (!graph.is_on_at_rest(ElementId{i}) && !net.conductors[i].is_spare())
      overlay.switch_on(graph, ElementId{i});
  for (std::uint32_t row = 0; row < net.parts.size(); ++row) {
    if (net.parts[row].place != PartPlace::field) continue;
    Part wired = net.parts[row];
    wired.place = PartPlace::panel;
    if (conducts_at_rest(wired, net)) overlay.switch_on(graph, graph.element_of_part(row));
  }
}

}  // namespace

void ConditionOverlay::lift(const ConductionGraph& graph, ElementId conductor, End end) {
  const PointId loose = overlay.add_loose_point(graph);
  overlay.move_end(graph, conductor, end, loose);
  lifted.push_back({conductor, end, loose});
}

ConditionOverlay overlay_of(const Condition& condition, const ConductionGraph& graph) {
  ConditionOverlay made;
  // Field parts first, so that what is operated or pulled among them has the last word.
  if (condition.has(State::field_connected)) connect_field(graph, made.overlay);
  for (const Setting& setting : condition.settings) {
    if (setting.state == State::power_on) made.power_on = true;
    if (setting.state == State::jumpered) made.overlay.join(setting.from, setting.to, k_joint_interval);
    if (setting.state == State::lifted)
      made.lift(graph, ElementId{setting.conductor}, setting.lifted_from ? End::a : End::b);
    for (const std::uint32_t row : setting.parts) set_part(setting, row, graph, made.overlay);
    if (setting.state == State::unplugged) unplug_implied(setting, graph, made.overlay);
  }
  return made;
}

namespace {

bool is_unplugged(PointId point, const Condition& condition, const Netlist& net) {
  const std::string_view part = part_of_place(net.points.place_name(net.points.place(point)));
  return std::any_of(condition.settings.begin(), condition.settings.end(), [&](const Setting& s) {
    if (s.state != State::unplugged) return false;
    const std::string_view object = std::string_view(s.object).substr(0, s.object.rfind('='));
    return part == object || (part.starts_with(object) && part[object.size()] == '.');
  });
}

}  // namespace

Result<Condition> parse_condition(std::string_view text, const ConductionGraph& graph) {
  return parse_condition(text, graph.netlist(), [&graph](PointId p) {
    std::vector<std::uint32_t> found;
    for (const ElementId e : graph.elements_at(p))
      if (graph.is_conductor(e)) found.push_back(index(e));
    return found;
  });
}

std::string point_name(PointId p, const ConditionOverlay& overlay, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  if (index(p) < graph.point_count()) return points.name(p);
  for (const auto& lifted : overlay.lifted)
    if (lifted.loose == p)
      return graph.element_name(lifted.conductor) + "@" +
             points.name(lifted.end == End::a ? graph.end_a(lifted.conductor)
                                              : graph.end_b(lifted.conductor));
  return {};
}

Result<PointId> find_lifted_end(std::string_view text, const Condition& condition,
                                const ConditionOverlay& overlay, const ConductionGraph& graph) {
  const std::string lifted_text = std::string(text) + "=lifted";
  const auto wanted = parse_condition(lifted_text, graph);
  if (!wanted) return tl::unexpected(wanted.error());
  const Setting& setting = wanted->settings.front();
  const End end = setting.lifted_from ? End::a : End::b;
  for (const auto& lifted : overlay.lifted)
    if (lifted.conductor == ElementId{setting.conductor} && lifted.end == end) return lifted.loose;
  const Conductor& conductor = graph.netlist().conductors[setting.conductor];
  const PointId clamp = end == End::a ? conductor.from : conductor.to;
  if (is_unplugged(clamp, condition, graph.netlist())) return clamp;
  return fail({ErrorCode::state_does_not_fit,
               "this conductor end is not lifted under the stated conditions",
               {},
               std::string(text),
               lifted_text + " among the conditions",
               {}});
}

}  // namespace ringtrue
