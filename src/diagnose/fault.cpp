#include "ringtrue/diagnose/fault.hpp"

#include <algorithm>

#include "ringtrue/graph/rows.hpp"
#include "ringtrue/model/meter.hpp"

namespace ringtrue {

std::string_view word(FaultKind kind) {
  switch (kind) {
    case FaultKind::open:
      return "open";
    case FaultKind::missing_bridge:
      return "missing-bridge";
    case FaultKind::miswire:
      return "miswire";
    case FaultKind::swap:
      return "swap";
    case FaultKind::shift:
      return "shift";
    case FaultKind::short_circuit:
      return "short";
    case FaultKind::extra_bridge:
      return "extra-bridge";
    case FaultKind::wrong_contact:
      return "wrong-contact";
    case FaultKind::reversed:
      return "reversed";
    case FaultKind::wrong_value:
      return "wrong-value";
    case FaultKind::bad_reading:
      return "bad-reading";
  }
  return {};
}

bool is_wire_in_panel(ElementId e, const ConductionGraph& graph) {
  return graph.kind(e) == ElementKind::conductor && graph.is_on_at_rest(e);
}

namespace {

PointId drawn_end(ElementId e, End end, const ConductionGraph& graph) {
  return end == End::a ? graph.end_a(e) : graph.end_b(e);
}

/// Calls `visit(conductor, end)` for the wire ends drawn on the point.
template <class Visit>
void for_each_wire_end(PointId p, const ConductionGraph& graph, Visit&& visit) {
  for (const ElementId e : graph.elements_at(p)) {
    if (!is_wire_in_panel(e, graph)) continue;
    for (const End end : {End::a, End::b})
      if (drawn_end(e, end, graph) == p) visit(e, end);
  }
}

std::vector<LandedEnd> ends_of_run(const Fault& shift, const ConductionGraph& graph) {
  std::vector<LandedEnd> landed;
  for (PointId at = shift.p; at != PointId::none; at = point_beside(graph, at, 1)) {
    const PointId to = point_beside(graph, at, shift.places);
    for_each_wire_end(at, graph, [&](ElementId e, End end) { landed.push_back({e, end, to}); });
    if (at == shift.q) break;
  }
  return landed;
}

std::vector<LandedEnd> ends_of_connectors(const Fault& shift, const ConductionGraph& graph) {
  const PointTable& points = graph.netlist().points;
  std::vector<LandedEnd> landed;
  const auto add = [&](PointId from, PointId to) {
    const std::string other = std::string(part_name(graph, to)) + ":";
    for (const PointId at : graph.points_of_part(from))
      for_each_wire_end(at, graph, [&](ElementId e, End end) {
        const auto place = points.find_place(other + std::string(pin_name(graph, at)));
        landed.push_back({e, end, place ? points.point(*place, Side::single) : PointId::none});
      });
  };
  add(shift.p, shift.q);
  add(shift.q, shift.p);
  return landed;
}

/// Moves a drawn end, unless the condition has already lifted it off whatever clamp it was on.
void move_drawn_end(const LandedEnd& landed, const ConductionGraph& graph, Overlay& overlay) {
  if (const ElementChange* changed = overlay.find(landed.conductor))
    if ((landed.end == End::a ? changed->a : changed->b) != drawn_end(landed.conductor, landed.end, graph))
      return;
  overlay.move_end(graph, landed.conductor, landed.end, landed.at);
}

}  // namespace

std::vector<LandedEnd> landed_ends(const Fault& fault, const ConductionGraph& graph) {
  switch (fault.kind) {
    case FaultKind::miswire:
      return {{fault.element, fault.end, fault.p}};
    case FaultKind::swap:
      return {{fault.element, fault.end, drawn_end(fault.element2, fault.end2, graph)},
              {fault.element2, fault.end2, drawn_end(fault.element, fault.end, graph)}};
    case FaultKind::shift:
      return fault.places != 0 ? ends_of_run(fault, graph) : ends_of_connectors(fault, graph);
    default:
      return {};
  }
}

OhmInterval wrong_value_of(const Fault& fault, const ConductionGraph& graph) {
  if (!graph.is_hard(fault.element)) return {k_least_of_a_load, k_infinite_ohms};
  const Ohms drawn = graph.interval(fault.element).hi;
  const Ohms just_silent{MeterSettings{}.threshold.value * 1.001};
  if (fault.above) return {std::max(drawn, just_silent), k_infinite_ohms};
  return {drawn, std::max(drawn, k_most_that_beeps)};
}

void apply(const Fault& fault, const ConductionGraph& graph, Overlay& overlay) {
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
      overlay.switch_off(graph, fault.element);
      break;
    case FaultKind::wrong_value:
      overlay.replace_interval(graph, fault.element, wrong_value_of(fault, graph));
      break;
    case FaultKind::reversed:
      overlay.turn_round(graph, fault.element);
      break;
    case FaultKind::miswire:
      move_drawn_end({fault.element, fault.end, fault.p}, graph, overlay);
      break;
    case FaultKind::swap:
      move_drawn_end({fault.element, fault.end, drawn_end(fault.element2, fault.end2, graph)}, graph,
                     overlay);
      move_drawn_end({fault.element2, fault.end2, drawn_end(fault.element, fault.end, graph)}, graph,
                     overlay);
      break;
    case FaultKind::shift:
      for (const LandedEnd& landed : landed_ends(fault, graph)) move_drawn_end(landed, graph, overlay);
      break;
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      overlay.join(fault.p, fault.q, {Ohms{0}, Ohms{0.1}});
      break;
    case FaultKind::wrong_contact: {
      // Both rows of a changeover are exchanged together: they are contacts of one part that share a pin.
      overlay.invert(graph, fault.element);
      if (fault.element2 != ElementId::none) overlay.invert(graph, fault.element2);
      break;
    }
    case FaultKind::bad_reading:
      break;
  }
}

bool is_set_aside(std::span<const Fault> faults, ReadingId reading) {
  return std::any_of(faults.begin(), faults.end(), [reading](const Fault& fault) {
    return fault.kind == FaultKind::bad_reading && fault.reading == reading;
  });
}

}  // namespace ringtrue
