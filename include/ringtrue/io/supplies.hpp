#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// Which potentials may come to which point, with every contact, switch, fuse and link closed: what is apart
/// at rest may be joined while a panel works. Loads do not count, but diodes do, the way they conduct.
/// Potentials are those declared, those that conductors are marked with, and the plus and minus of each
/// supply in the parts list; pins of transformers and incoming pins of supplies count as AC.
class Supplies {
 public:
  /// The graph must outlive this. Cost: linear in its points and elements.
  explicit Supplies(const ConductionGraph& graph);

  [[nodiscard]] const ConductionGraph& graph() const { return *graph_; }
  /// A potential of the kind may come to the point.
  [[nodiscard]] bool reaches(PotentialKind kind, PointId p) const {
    return (kinds_[index(p)] >> static_cast<unsigned>(kind) & 1u) != 0;
  }
  [[nodiscard]] bool ac_reaches(PointId p) const {
    return reaches(PotentialKind::ac_line, p) || reaches(PotentialKind::ac_neutral, p);
  }

 private:
  void spread(PotentialKind kind, PointId from);
  void spread_marks();

  const ConductionGraph* graph_;
  std::vector<std::uint8_t> kinds_;  ///< by point, a bit per PotentialKind
};

/// At rest either point is on a supply of the parts list, and they share none: no current runs from the one
/// to the other.
[[nodiscard]] bool are_on_two_supplies(PointId p, PointId q, const ConductionGraph& graph);

}  // namespace ringtrue
