#include "ringtrue/diagnose/fault.hpp"

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
    case FaultKind::short_circuit:
      return "short";
    case FaultKind::extra_bridge:
      return "extra-bridge";
    case FaultKind::wrong_contact:
      return "wrong-contact";
    case FaultKind::wrong_value:
      return "wrong-value";
  }
  return {};
}

namespace {

/// Moves a drawn end, unless the condition has already lifted it off whatever clamp it was on.
void move_drawn_end(ElementId e, End end, PointId to, const ConductionGraph& graph, Overlay& overlay) {
  const PointId drawn = end == End::a ? graph.end_a(e) : graph.end_b(e);
  if (const ElementChange* changed = overlay.find(e))
    if ((end == End::a ? changed->a : changed->b) != drawn) return;
  overlay.move_end(graph, e, end, to);
}

PointId drawn_end(ElementId e, End end, const ConductionGraph& graph) {
  return end == End::a ? graph.end_a(e) : graph.end_b(e);
}

}  // namespace

OhmInterval wrong_value_of(ElementId element, const ConductionGraph& graph) {
  return {graph.is_hard(element) ? graph.interval(element).hi : Ohms{0}, k_infinite_ohms};
}

void apply(const Fault& fault, const ConductionGraph& graph, Overlay& overlay) {
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
      overlay.switch_off(graph, fault.element);
      break;
    case FaultKind::wrong_value:
      overlay.replace_interval(graph, fault.element, wrong_value_of(fault.element, graph));
      break;
    case FaultKind::miswire:
      move_drawn_end(fault.element, fault.end, fault.p, graph, overlay);
      break;
    case FaultKind::swap:
      move_drawn_end(fault.element, fault.end, drawn_end(fault.element2, fault.end2, graph), graph, overlay);
      move_drawn_end(fault.element2, fault.end2, drawn_end(fault.element, fault.end, graph), graph, overlay);
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
  }
}

}  // namespace ringtrue
