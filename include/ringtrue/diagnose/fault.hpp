#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/ids.hpp"
#include "ringtrue/graph/overlay.hpp"

namespace ringtrue {

enum class FaultKind : std::uint8_t {
  open,
  missing_bridge,
  miswire,
  swap,
  short_circuit,
  extra_bridge,
  wrong_contact,
  wrong_value
};
[[nodiscard]] std::string_view word(FaultKind kind);  ///< `open`, `missing-bridge`, ..., `short`, ...

/// One change of the netlist.
///
/// | kind | element, end | element2, end2 | points |
/// | --- | --- | --- | --- |
/// | open, missing_bridge, wrong_value | the element | - | - |
/// | wrong_contact | the contact | the other contact of a changeover, else none | - |
/// | miswire | the conductor and its moved end | - | `p` = where it was found |
/// | swap | first conductor and end | second conductor and end | - |
/// | short_circuit, extra_bridge | - | - | `p`, `q` = the two points joined |
struct Fault {
  FaultKind kind = FaultKind::open;
  ElementId element = ElementId::none, element2 = ElementId::none;
  End end = End::a, end2 = End::a;
  PointId p = PointId::none, q = PointId::none;

  friend bool operator==(const Fault&, const Fault&) = default;
  friend auto operator<=>(const Fault&, const Fault&) = default;
};

/// What an element has whose value is wrong: a coil, lamp or resistor anything, copper more than it can have
/// as drawn (a loose clamp, a corroded joint).
[[nodiscard]] OhmInterval wrong_value_of(ElementId element, const ConductionGraph& graph);

/// Adds the fault to an overlay that already holds the condition.
void apply(const Fault& fault, const ConductionGraph& graph, Overlay& overlay);

/// Prior probabilities of faults, per place where they can happen; one table for the whole tool.
struct Priors {
  double open_conductor = 1e-3;       ///< estimate: two ends, 5e-4 each
  double open_element = 2e-4;         ///< a body, contact, path; estimate
  double blown_fuse = 2e-3;           ///< blown or missing; estimate
  double missing_bridge = 1e-3;       ///< estimate
  double wrong_contact = 1e-3;        ///< NO and NC exchanged; estimate
  double wrong_load = 2e-4;           ///< a coil, lamp or resistor of another value; estimate
  double bad_joint = 2e-4;            ///< copper of too high a resistance, per element; estimate
  double miswire_neighbour = 5e-4;    ///< per end and neighbour; estimate
  double miswire_strip = 1e-4;        ///< per end, over all other places of the same part; estimate
  double miswire_elsewhere = 1e-5;    ///< per end, over all other nets; estimate
  double swap_neighbours = 5e-4;      ///< per pair; estimate
  double swap_strip = 5e-5;           ///< per end, over all ends on the same part; estimate
  double swap_elsewhere = 5e-6;       ///< per end, over all ends; estimate
  double extra_bridge = 3e-4;         ///< per pair of neighbouring terminals; estimate
  double short_of_neighbours = 1e-4;  ///< per pair of neighbouring pins of a device; estimate
  double short_circuit = 1e-6;        ///< per pair of nets; estimate
};

}  // namespace ringtrue
