#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "ringtrue/logic/stimuli.hpp"

namespace ringtrue::logic {

/// What the parts list says of a part as a whole, of what moves it, or of the conductor: the first role
/// found.
[[nodiscard]] Role role_of(ElementId element, const ConductionGraph& graph);

/// A contact of a stop or guard device that is not here, with the terminals it would be wired to.
struct MissingContact {
  ElementId contact = ElementId::none;
  std::vector<PointId> a, b;
};
/// In the order of the parts. Contacts of one device are channels of their own: they stay apart.
[[nodiscard]] std::vector<MissingContact> missing_contacts(const ConductionGraph& graph);

/// A loop of contacts that a relay watches, from one of its pins to another.
struct StopLoop {
  PointId from = PointId::none, to = PointId::none;
  std::vector<PointId> points;  ///< one longer than `elements`
  std::vector<ElementId> elements;
  std::vector<ElementId> contacts;  ///< those of `elements`
};

/// A contact of the relay, and the coil it switches.
struct StopOutput {
  ElementId contact = ElementId::none, coil = ElementId::none;
};

/// A digital input that shows it.
struct StopShown {
  std::size_t channel = 0;
  bool lit_when_in = true;
};

/// Something done to a stop circuit, and whether its relay is in afterwards.
struct StopStep {
  enum class What : std::uint8_t {
    connect,  ///< the box, its contacts closed
    reset,    ///< operate the reset device and let go
    open,     ///< one contact of the box, or all of it
    close,    ///< likewise
    operate,  ///< a device of the panel or door
    release,
  } what = What::connect;
  std::vector<ElementId> contacts;  ///< of the box; empty for a device
  std::string device;
  bool is_in = false;
  /// Whether the make of the relay decides if it comes in: many do only once both channels have been open.
  bool depends_on_make = false;
};

/// A relay with the role stop or guard, and all around it.
struct StopCircuit {
  std::string relay;  ///< empty: devices that are not here, and on no loop of a relay
  Role role = Role::stop;
  std::vector<StopLoop> channels;       ///< closed while nobody stops
  std::vector<StopLoop> resets;         ///< closed by a hand: somebody presses
  std::vector<MissingContact> missing;  ///< of the channels
  std::vector<StopOutput> outputs;
  std::vector<StopShown> shown_by;  ///< digital inputs that show a contact of the relay or of what it moves
  /// With the real devices, from dark to working again. Empty where the drawing has no reset or no channel.
  std::vector<StopStep> steps;
};

/// In the order of the parts; last, without a relay, what else is missing. A loop is the way with the fewest
/// elements between both pins of an electronics row of the relay, outside of it. What a make does beyond that
/// stands in its manual.
[[nodiscard]] std::vector<StopCircuit> stop_circuits(const ConductionGraph& graph, const Fittings& fittings);

}  // namespace ringtrue::logic
