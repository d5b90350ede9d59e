#pragma once
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/ids.hpp"
#include "ringtrue/graph/overlay.hpp"

namespace ringtrue {

/// What can be wrong. Each with its elements, ends and points: see Fault.
enum class FaultKind : std::uint8_t {
  open,
  missing_bridge,
  miswire,
  swap,
  shift,
  short_circuit,
  extra_bridge,
  wrong_contact,
  reversed,
  wrong_value,
  bad_reading
};
inline constexpr std::size_t k_fault_kinds = static_cast<std::size_t>(FaultKind::bad_reading) + 1;
[[nodiscard]] std::string_view word(FaultKind kind);  ///< `open`, `missing-bridge`, ..., `short`, ...

/// One change of the netlist, or a reading that is not to be believed.
///
/// | kind | element, end | element2, end2 | points |
/// | --- | --- | --- | --- |
/// | open, missing_bridge, reversed, wrong_value | the element | - | - |
/// | wrong_contact | the contact | the other contact of a changeover, else none | - |
/// | miswire | the conductor and its moved end | - | `p` = where it was found |
/// | swap | first conductor and end | second conductor and end | - |
/// | shift of a run | - | - | every wire drawn on `p` to `q`, consecutive, is `places` on |
/// | shift of connectors (`places` 0) | - | - | wires of the part of `p` and of the part of `q` exchanged |
/// | short_circuit, extra_bridge | - | - | `p`, `q` = the two points joined |
/// | bad_reading | - | - | - (`reading`) |
struct Fault {
  FaultKind kind = FaultKind::open;
  ElementId element = ElementId::none, element2 = ElementId::none;
  End end = End::a, end2 = End::a;
  std::int8_t places = 0;
  bool above = false;  ///< wrong value of copper: too high for a buzzer
  PointId p = PointId::none, q = PointId::none;
  ReadingId reading = ReadingId::none;

  friend bool operator==(const Fault&, const Fault&) = default;
  friend auto operator<=>(const Fault&, const Fault&) = default;
};

/// A conductor end and where a fault has it.
struct LandedEnd {
  ElementId conductor = ElementId::none;
  End end = End::a;
  PointId at = PointId::none;
};

/// The ends that the fault moves, in the order of their places on the drawing; for a miswire, swap or shift.
[[nodiscard]] std::vector<LandedEnd> landed_ends(const Fault& fault, const ConductionGraph& graph);

/// A wire or core in the panel: a hand can land its ends in a row with others.
[[nodiscard]] bool is_wire_in_panel(ElementId e, const ConductionGraph& graph);

/// What the element of a wrong value has: a coil, lamp or resistor anything from `k_least_of_a_load`; copper
/// more than it can have as drawn (a loose clamp, a corroded joint), either up to `k_most_that_beeps`, or
/// above the usual threshold of a buzzer.
[[nodiscard]] OhmInterval wrong_value_of(const Fault& fault, const ConductionGraph& graph);

/// Less is a short across it; estimate.
inline constexpr Ohms k_least_of_a_load{1};
/// With the rest of the way (Counting::limited) it still beeps for certain at a threshold of 30 ohms.
inline constexpr Ohms k_most_that_beeps{25};

/// Adds the fault to an overlay that already holds the condition. A bad reading changes nothing.
void apply(const Fault& fault, const ConductionGraph& graph, Overlay& overlay);

/// The reading is one of those that the faults declare bad.
[[nodiscard]] bool is_set_aside(std::span<const Fault> faults, ReadingId reading);

}  // namespace ringtrue
