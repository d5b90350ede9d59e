#pragma once
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "switched_copper.hpp"

namespace ringtrue::io {

/// What temporary leads may join that isn't joined without them, in some state of the contacts without a
/// role. Diodes count as contacts, since they may conduct.
class NewJoins {
 public:
  NewJoins(const ConductionGraph& graph, const SwitchedCopper& copper);

  /// A lead between two points; what made it must outlive it.
  class Lead {
   public:
    /// Cost: linear in the contacts within reach.
    Lead(const NewJoins& joins, PointId a, PointId b);

    /// There is a state in which p and q are joined with the lead and not without it.
    /// Cost: next to nothing where no contacts lead there, else at most quadratic in those within reach.
    [[nodiscard]] bool joins(PointId p, PointId q) const;

   private:
    const NewJoins& joins_;
    std::vector<NetId> ends_;                    ///< steady
    std::unordered_set<NetId> from_a_, from_b_;  ///< what each end reaches without touching the other
  };

 private:
  using Nets = std::vector<NetId>;
  /// By each net reached: the one that it was reached from, `none` for those begun with.
  using Reached = std::unordered_map<NetId, NetId>;
  [[nodiscard]] Reached reach(const Nets& from, NetId without) const;

  const SwitchedCopper& copper_;
  std::unordered_map<NetId, Nets> beside_;  ///< by steady net: those that one contact or diode joins to it
};

}  // namespace ringtrue::io
