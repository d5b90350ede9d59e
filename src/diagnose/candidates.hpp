#pragma once
#include <functional>
#include <span>
#include <vector>

#include "consistency.hpp"
#include "landing.hpp"

namespace ringtrue {

struct Candidate {
  Fault fault;
  double cost = 0;
};

/// What is asked of a candidate that takes a wrongly predicted reading on.
enum class Reach : std::uint8_t {
  alone,       ///< it has to make the reading possible by itself
  with_others  ///< further faults may follow
};

/// Gives the faults of which any explanation that extends `faults` must hold at least one, for one reading
/// that `faults` leaves impossible ("branch set").
///
/// - The drawing has a path, the meter saw none: some further fault must break one shortest path P, so it is
///   an open, miswire, swap or wrong contact of an element of P.
/// - The drawing has no path, the meter saw one: some further fault must, applied alone, make an edge that
///   leaves the set A of points joined to the red probe; for `Reach::alone` the edge has to end in the set B
///   at the black probe. Nets that a load of low resistance joins to A or B belong to them, since a beep may
///   pass it.
/// - A value in ohms above what is possible, or no beep where a load of few ohms has to make one: some
/// further
///   fault must alter one of the elements that hold the value down; a wrong value is among them. One below:
///   some further fault must join two points that current can reach, or lower a load; alone, points far
///   enough apart in potential (expect/currents.hpp).
///
/// Why nothing is missed: if S is part of an explanation S*, then under S* the path P cannot stand as it is,
/// or some edge of the path that S* makes crosses the boundary of A and is none of S; a conductor moved at
/// both ends started with both on one side, and the end that goes over crosses alone. (Reasoned in
/// DEVELOPERS.md; tested by brute force.)
///
/// Only faults up to `max_cost` are made, in an order that depends on names alone.
class Candidates {
 public:
  Candidates(const Consistency& consistency, const Landing& landing)
      : consistency_(consistency), landing_(landing), graph_(consistency.graph()) {}

  [[nodiscard]] std::vector<Candidate> branch_set(std::span<const Fault> faults, ReadingId reading,
                                                  double max_cost, Reach reach) const;

 private:
  using Membership = std::function<bool(PointId)>;
  class Collector;

  void explain_ohms(const View& view, const Probing& probing, OhmInterval shown, Reach reach,
                    Collector& into) const;
  void add_wrong_value(ElementId e, Collector& into) const;
  void raise_element(ElementId e, Collector& into) const;
  void break_path(const View& view, const Probing& probing, Collector& into) const;
  void break_element(ElementId e, Collector& into) const;
  void move_away(ElementId e, End end, Collector& into) const;
  void swap_away(ElementId e, End end, Collector& into) const;
  /// Edges from `inside` to points that `in_t` holds; those are listed in `far` where they are few.
  void cross(const std::vector<PointId>& inside, const std::vector<PointId>* far, const Membership& in_t,
             Collector& into) const;
  void join_across(const std::vector<PointId>& inside, const std::vector<PointId>* far,
                   const Membership& in_t, Collector& into) const;
  [[nodiscard]] std::vector<std::uint32_t> blocks_of(const std::vector<PointId>& points) const;
  void move_out(PointId inside, const Membership& in_t, Collector& into) const;
  void move_in(PointId inside, const Membership& in_t, Collector& into) const;
  void move_in_from_anywhere(const std::vector<PointId>& inside, const Membership& in_t,
                             Collector& into) const;
  void swap_across(PointId inside, const Membership& in_t, Collector& into) const;
  void close_contacts(PointId inside, const Membership& in_t, Collector& into) const;
  /// Points where the end could have been landed, one per block, nearest first; only blocks that `wanted`
  /// holds.
  template <class Visit>
  void for_each_landing(PointId drawn, double max_cost, const Membership& wanted, Visit&& visit) const;
  /// Movable conductor ends on other nets than `drawn` with their nearness, as far as a swap with them is
  /// affordable.
  template <class Visit>
  void for_each_swap(PointId drawn, double max_cost, Visit&& visit) const;
  template <class Visit>
  void for_each_end_at(PointId p, Visit&& visit) const;

  const Consistency& consistency_;
  const Landing& landing_;
  const ConductionGraph& graph_;
};

/// The two fault sets may stand together: no conductor end, element or pair of points is in both.
[[nodiscard]] bool is_compatible(const Fault& fault, std::span<const Fault> faults, const Landing& landing);

}  // namespace ringtrue
