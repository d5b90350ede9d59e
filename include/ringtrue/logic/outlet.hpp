#pragma once
#include <optional>
#include <string>
#include <vector>

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/logic/drive.hpp"

namespace ringtrue::logic {

/// What hangs on an output, and what feeds it.
struct Outlet {
  ChannelTrace trace;
  std::vector<ElementId> loads;         ///< present on the net of its field terminal: coils, lamps...
  std::vector<ElementId> safety_loads;  ///< those of them with a role
  std::vector<ElementId> contacts;      ///< moved by these coils
  /// Elements with a role on its signal, return or common, or between these and the supply that they hang on.
  std::vector<ElementId> guarded;
  Role role = Role::none;  ///< its own, or the first of `guarded`
};
/// @param channel  a DO, as an index into the netlist's channels.
[[nodiscard]] Outlet outlet_of(const ConductionGraph& graph, std::size_t channel);

/// The voltage of an output while it is on, from its field terminal to its return.
struct OutletVolts {
  const Potential* feed = nullptr;  ///< that its common ends on; null where the drawing states none
  const Potential* back = nullptr;  ///< that its return ends on
  bool is_dc = false;
  /// Stated only between the two poles of one supply, or a line and the neutral.
  std::optional<double> volts;
};
/// By the potentials that its common and return end on.
[[nodiscard]] OutletVolts volts_of(const Outlet& outlet, const ConductionGraph& graph);

/// The verdict once the output's own role and that of its feed count as well.
[[nodiscard]] DriveVerdict verdict_of(const Drive& drive, const Outlet& outlet);

}  // namespace ringtrue::logic
