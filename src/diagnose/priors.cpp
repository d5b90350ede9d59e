#include "ringtrue/diagnose/priors.hpp"

#include <cmath>

namespace ringtrue {

namespace {

constexpr std::string_view k_estimate = "estimate";
constexpr std::string_view k_slip =
    "estimate; handbooks put a slip in a routine action at about 1e-3, and most are noticed at once";

constexpr PriorRow k_rows[] = {
    {"open_conductor", FaultKind::open, &Priors::open_conductor,
     "a conductor broken or not clamped: two ends, 5e-4 each", k_estimate},
    {"open_element", FaultKind::open, &Priors::open_element,
     "a terminal body, contact, path or load that doesn't conduct", k_estimate},
    {"blown_fuse", FaultKind::open, &Priors::blown_fuse, "a fuse blown or missing", k_estimate},
    {"missing_bridge", FaultKind::missing_bridge, &Priors::missing_bridge, "a bridge or busbar missing",
     k_estimate},
    {"wrong_contact", FaultKind::wrong_contact, &Priors::wrong_contact, "NO and NC of a contact exchanged",
     k_estimate},
    {"reversed_diode", FaultKind::reversed, &Priors::reversed_diode, "a diode fitted the wrong way round",
     k_estimate},
    {"wrong_load", FaultKind::wrong_value, &Priors::wrong_load, "a coil, lamp or resistor of another value",
     k_estimate},
    {"bad_joint", FaultKind::wrong_value, &Priors::bad_joint,
     "a conductor or closed contact of too high a resistance", k_estimate},
    {"miswire_neighbour", FaultKind::miswire, &Priors::miswire_neighbour,
     "an end one place off, per end and neighbour", k_estimate},
    {"miswire_strip", FaultKind::miswire, &Priors::miswire_strip,
     "an end elsewhere on the same part, over all its places", k_estimate},
    {"miswire_elsewhere", FaultKind::miswire, &Priors::miswire_elsewhere,
     "an end on another part, over all nets", k_estimate},
    {"swap_neighbours", FaultKind::swap, &Priors::swap_neighbours,
     "two neighbouring ends exchanged, per pair", k_estimate},
    {"swap_strip", FaultKind::swap, &Priors::swap_strip,
     "an end exchanged with one on the same part, over all of them", k_estimate},
    {"swap_elsewhere", FaultKind::swap, &Priors::swap_elsewhere,
     "an end exchanged with one on another part, over all", k_estimate},
    {"shifted_run", FaultKind::shift, &Priors::shifted_run,
     "a run of neighbouring ends one or two places off, per run", k_estimate},
    {"exchanged_connectors", FaultKind::shift, &Priors::exchanged_connectors,
     "the wires of two neighbouring modules exchanged, per pair", k_estimate},
    {"extra_bridge", FaultKind::extra_bridge, &Priors::extra_bridge,
     "neighbouring terminals bridged, per pair", k_estimate},
    {"short_of_neighbours", FaultKind::short_circuit, &Priors::short_of_neighbours,
     "neighbouring pins of a device joined, per pair", k_estimate},
    {"short_circuit", FaultKind::short_circuit, &Priors::short_circuit, "two other nets joined, per pair",
     k_estimate},
    {"bad_reading", FaultKind::bad_reading, &Priors::bad_reading, "a reading taken or written wrongly",
     k_slip},
    {"bad_value", FaultKind::bad_reading, &Priors::bad_value,
     "the same for a beep or a value in ohms that no neighbouring point would have given", k_slip},
};

}  // namespace

std::span<const PriorRow> prior_rows() { return k_rows; }

double prior_of_open(ElementId e, const ConductionGraph& graph, const Priors& priors) {
  if (graph.kind(e) == ElementKind::link) return priors.missing_bridge;
  if (graph.is_conductor(e)) return priors.open_conductor;
  const ElementOrigin from = graph.origin(e);
  const bool is_fuse =
      from.from == ElementOrigin::From::part && graph.netlist().parts[from.row].kind == PartKind::fuse;
  return is_fuse ? priors.blown_fuse : priors.open_element;
}

double cost_of_prior(double prior) { return -std::log(prior / (1 - prior)); }

}  // namespace ringtrue
