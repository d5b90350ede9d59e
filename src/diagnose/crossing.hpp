#pragma once
#include <vector>

#include "fault_sets.hpp"
#include "moves.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Collects the faults that, applied alone to a view, make a hard edge from a set of points to points that
/// `in_t` holds. A shift makes several edges; it only has to lead one of them from the set to a point that
/// `is_outside` holds.
class Crossing {
 public:
  Crossing(const View& view, const Landing& landing, const Costs& costs, Membership in_t,
           Membership is_outside, Collector& into)
      : view_(view),
        graph_(view.graph()),
        landing_(landing),
        costs_(costs),
        moves_(landing, costs),
        in_t_(std::move(in_t)),
        is_outside_(std::move(is_outside)),
        into_(into) {}

  /// `inside` is sorted. Shifts, which make many edges at once, are asked for apart.
  void from(const std::vector<PointId>& inside);
  void shifts_from(const std::vector<PointId>& inside);

 private:
  void join_across(const std::vector<PointId>& inside);
  void move_out(ElementId e, End stays);
  void move_in(PointId inside);
  void move_in_from_anywhere(const std::vector<PointId>& inside);
  void swap_out(ElementId e, End stays);
  void swap_in(PointId inside);
  void shift_across(PointId inside, PointId drawn);
  void close_contacts(PointId inside);
  template <class Visit>
  void for_each_moved_end(const std::vector<PointId>& inside, Visit&& visit) const;

  /// Where the end is under the view.
  [[nodiscard]] PointId now(ElementId e, End end) const {
    return end == End::a ? view_.end_a(e) : view_.end_b(e);
  }

  const View& view_;
  const ConductionGraph& graph_;
  const Landing& landing_;
  const Costs& costs_;
  const Moves moves_;
  const Membership in_t_, is_outside_;
  Collector& into_;
};

}  // namespace ringtrue
