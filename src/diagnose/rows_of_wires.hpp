#pragma once
#include <cstdint>
#include <optional>
#include <utility>
#include <vector>

#include "ringtrue/diagnose/fault.hpp"
#include "ringtrue/graph/graph.hpp"

namespace ringtrue {

/// Points of one part and side in the order of their numbers, as neighbours follow each other, and how many
/// wire ends lie on them.
class RowOfWires {
 public:
  /// The row that begins at `first`.
  RowOfWires(const ConductionGraph& graph, PointId first);
  /// Where the row of a point begins.
  [[nodiscard]] static PointId first_of(const ConductionGraph& graph, PointId p);

  /// Wires from one place to another, all landed so many places off.
  struct Run {
    std::size_t first = 0, last = 0;
    int places = 0;
  };
  [[nodiscard]] const std::vector<PointId>& points() const { return points_; }
  [[nodiscard]] std::optional<std::size_t> place_of(PointId p) const;
  [[nodiscard]] Fault shift(const Run& run) const;

  /// Calls `visit(run)` for each run of 3 to 32 wire ends that moves those at a point of the row by one or
  /// two places, by places and first place; where it returns false, runs that begin there and end later are
  /// left out.
  template <class Visit>
  void for_each_run(PointId p, Visit&& visit) const;

 private:
  [[nodiscard]] std::uint32_t ends(std::size_t first, std::size_t last) const {
    return ends_before_[last + 1] - ends_before_[first];
  }

  std::vector<PointId> points_;
  std::vector<std::uint32_t> ends_before_;
  std::vector<std::pair<PointId, std::size_t>> places_;  ///< by point
};

template <class Visit>
void RowOfWires::for_each_run(PointId p, Visit&& visit) const {
  const std::size_t own = *place_of(p);
  constexpr std::uint32_t k_fewest_ends = 3, k_most_ends = 32;
  for (const int places : {-2, -1, 1, 2})
    for (std::size_t first = own + 1; first-- > 0;) {
      if (ends(first, own) > k_most_ends) break;
      if (ends(first, first) == 0) continue;
      if (static_cast<std::ptrdiff_t>(first) + places < 0) break;
      for (std::size_t last = own; last < points_.size(); ++last) {
        if (ends(first, last) > k_most_ends ||
            static_cast<std::ptrdiff_t>(last) + places >= std::ssize(points_))
          break;
        if (ends(last, last) == 0 || ends(first, last) < k_fewest_ends) continue;
        if (!visit(Run{first, last, places})) break;
      }
    }
}

}  // namespace ringtrue
