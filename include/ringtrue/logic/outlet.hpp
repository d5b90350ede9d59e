#pragma once
#include <string>
#include <vector>

#include "ringtrue/graph/trace.hpp"
#include "ringtrue/logic/drive.hpp"

namespace ringtrue::logic {

/// What hangs on an output, and what feeds it.
struct Outlet {
  ChannelTrace trace;
  std::vector<ElementId> loads;     ///< present on the net of its field terminal: coils, lamps...
  std::vector<ElementId> contacts;  ///< moved by these coils
  std::vector<ElementId> guarded;   ///< elements with a role on its signal, return or common
  Role role = Role::none;           ///< its own, or the first of `guarded`
};
[[nodiscard]] Outlet outlet_of(const ConductionGraph& graph, std::size_t channel);

/// A contact of a stop or guard device that is not here, with the terminals it would be wired to.
struct MissingContact {
  ElementId contact = ElementId::none;
  std::vector<PointId> a, b;
};
/// In the order of the parts. Contacts of one device are channels of their own: they stay apart.
[[nodiscard]] std::vector<MissingContact> missing_contacts(const ConductionGraph& graph);

/// The verdict once the output's own role and that of its feed count as well.
[[nodiscard]] DriveVerdict verdict_of(const Drive& drive, const Outlet& outlet);

}  // namespace ringtrue::logic
