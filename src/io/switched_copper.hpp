#pragma once
#include <optional>
#include <unordered_map>
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue::io {

[[nodiscard]] Role role_of(ElementId element, const ConductionGraph& graph);

/// The nets that a panel's copper makes in the states a jumper is judged in. Everything with a role is open;
/// fuses, breakers and links are closed; cables and devices in the field count as connected.
class SwitchedCopper {
 public:
  explicit SwitchedCopper(const ConductionGraph& graph);
  SwitchedCopper(const SwitchedCopper&) = delete;
  SwitchedCopper& operator=(const SwitchedCopper&) = delete;

  /// All contacts open.
  [[nodiscard]] NetId steady(PointId p) const { return steady_.view->net(p); }
  /// All contacts closed.
  [[nodiscard]] NetId closed(PointId p) const { return closed_.view->net(p); }
  /// All contacts closed, and diodes taken for copper.
  [[nodiscard]] NetId with_diodes(PointId p) const { return with_diodes_.view->net(p); }
  /// All contacts closed but those at a declared potential's steady net.
  [[nodiscard]] NetId beyond_potentials(PointId p) const { return beyond_.view->net(p); }
  /// On the steady net of a declared potential's origin.
  [[nodiscard]] bool is_on_potential(PointId p) const;

 private:
  struct State {
    Overlay overlay;
    std::optional<View> view;
  };
  enum class Contacts { open, closed, closed_beyond_potentials };
  void close(State& state, const ConductionGraph& graph, Contacts contacts, bool diodes);

  State steady_, closed_, with_diodes_, beyond_;
  std::vector<NetId> potential_nets_;  ///< steady, sorted
};

}  // namespace ringtrue::io
