#pragma once
#include <functional>
#include <span>
#include <vector>

#include "fault_sets.hpp"
#include "moves.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/graph/view.hpp"
#include "shifts.hpp"

namespace ringtrue {

/// What the hard edges that a fault makes at once are asked for.
using MayDo = std::function<bool(std::span<const Joint>)>;

/// Collects the faults that, applied alone to a view, make a hard edge from a set of points to the outside,
/// and whose edges may do what is asked. Where a fault makes a single edge, the far end has to be one that
/// `in_t` holds as well. Where there is a far side, `in_t` holds nothing outside it, and edges of which none
/// has an end on it may never do.
class Crossing {
 public:
  Crossing(const View& view, const Landing& landing, const Costs& costs, Membership in_t,
           Membership is_outside, MayDo may_do, const FarSide* far, Collector& into)
      : view_(view),
        graph_(view.graph()),
        landing_(landing),
        costs_(costs),
        moves_(landing, costs),
        in_t_(std::move(in_t)),
        is_outside_(std::move(is_outside)),
        may_do_(std::move(may_do)),
        far_(far),
        into_(into) {}

  /// Faults that make one edge; `inside` is sorted.
  void singly_from(const std::vector<PointId>& inside);
  /// Faults that make two or many at once.
  void swaps_from(const std::vector<PointId>& inside);
  void shifts_from(const std::vector<PointId>& inside, Shifts& shifts);

 private:
  void join_across(const std::vector<PointId>& inside);
  void move_out(ElementId e, End stays);
  void move_in(PointId inside);
  void move_in_from_anywhere(const std::vector<PointId>& inside);
  void swap_out(ElementId e, End stays);
  void swap_in(PointId inside);
  void shift_across(PointId inside, PointId drawn, Shifts& shifts);
  [[nodiscard]] bool may_lead_across(PointId inside, PointId drawn) const;
  void close_contacts(PointId inside);
  [[nodiscard]] bool may_do(PointId inside, PointId far) const {
    const Joint made{inside, far};
    return may_do_({&made, 1});
  }
  /// Where the ends lie with which the conductor may have to be exchanged.
  [[nodiscard]] const FarSide* far_side_of(ElementId e) const {
    return far_ == nullptr || far_->is_at(e) ? nullptr : far_;
  }
  [[nodiscard]] bool may_do_by_swap(ElementId e, End end, ElementId f, End f_end) const;
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
  const MayDo may_do_;
  const FarSide* far_;
  Collector& into_;
};

}  // namespace ringtrue
