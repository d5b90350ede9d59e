#pragma once
#include <unordered_map>
#include <vector>

#include "switched_copper.hpp"

namespace ringtrue::io {

/// What a temporary lead may join that isn't joined without it, in some state of the contacts without a role.
/// Diodes count as contacts, since they may conduct.
class NewJoins {
 public:
  NewJoins(const ConductionGraph& graph, const SwitchedCopper& copper);

  /// There is a state in which a lead from a to b joins p and q, and nothing else does.
  /// Cost: at most quadratic in the contacts on the way; next to nothing where there are none.
  [[nodiscard]] bool possible(PointId a, PointId b, PointId p, PointId q) const;

 private:
  using Nets = std::vector<NetId>;
  [[nodiscard]] Nets way(const Nets& from, const Nets& to, NetId without) const;

  const SwitchedCopper& copper_;
  std::unordered_map<NetId, Nets> beside_;  ///< by steady net: those that one contact or diode joins to it
};

}  // namespace ringtrue::io
