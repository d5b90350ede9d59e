#pragma once
#include <span>
#include <vector>

#include "consistency.hpp"
#include "costs.hpp"
#include "fault_sets.hpp"
#include "landing.hpp"
#include "moves.hpp"
#include "shifts.hpp"

namespace ringtrue {

/// What is asked of a candidate that takes a wrongly predicted reading on.
enum class Reach : std::uint8_t {
  /// it has to make the reading possible by itself; shifts that an agreeing beep refutes at sight are left
  /// out, so that no further fault should follow
  alone,
  with_others  ///< further faults may follow, as far as the cost leaves room for them
};

/// Gives the faults of which any explanation that extends `faults` must hold at least one, for one reading
/// that `faults` leaves impossible ("branch set"). The reading may also be a bad one.
///
/// - The resistance expected is too low (the drawing has a path, the meter saw none): some further fault must
///   alter one of the elements that hold it down. Where one path does that alone, it's an element of that
///   path; else one of all that carry current at the highest values.
/// - The resistance expected is too high (no path, and yet a beep): let A be a set of nets around one probe
///   whose loads let so little current out that the value is out of reach (Cut). Some further fault must,
///   applied alone, join a point of A to one outside, or lower a load on the way out. Where there is no such
///   set, one of all that touch what loads join to the probes. For `Reach::alone` the far end must lie in
///   such a set around the other probe, or where A with that net added is none any more, or at a potential
///   that allows it.
///
/// Why nothing is missed: if S is part of an explanation S*, then under S* what holds the resistance down
/// cannot stand as it is, or some joint of S* crosses the boundary of A and is none of S; a conductor moved
/// at both ends started with both on one side, and the end that goes over crosses alone. (Reasoned in
/// DEVELOPERS.md; tested by brute force.)
///
/// Only faults up to `max_cost` are made, in an order that depends on names alone.
class Candidates {
 public:
  Candidates(const Consistency& consistency, const Landing& landing, const Costs& costs,
             const ReadingCosts& reading_costs)
      : consistency_(consistency),
        landing_(landing),
        costs_(costs),
        reading_costs_(reading_costs),
        moves_(landing, costs),
        graph_(consistency.graph()) {}

  /// Those up to a cost, cheapest first; if there are more than `most`, any that are more.
  [[nodiscard]] std::vector<Candidate> branch_set(std::span<const Fault> faults, ReadingId reading,
                                                  double max_cost, Reach reach, std::size_t most) const;
  /// What it costs not to believe the reading, which always explains it.
  [[nodiscard]] double cost_of_bad(ReadingId reading) const { return reading_costs_.of(reading); }

 private:
  // What raises a resistance.
  void raise(const View& view, const Probing& probing, Ohms limit, Shifts& shifts, Collector& into) const;
  void raise_element(ElementId e, Shifts& shifts, Collector& into) const;
  void move_away(ElementId e, End end, Shifts& shifts, Collector& into) const;

  // What lowers it.
  void lower(const View& view, const Probing& probing, Ohms limit, Reach reach, Shifts& shifts,
             Collector& into) const;
  void lower_at_once(const View& view, const Probing& probing, Ohms limit, Shifts& shifts,
                     Collector& into) const;
  void lower_anywhere(const View& view, const Probing& probing, Shifts& shifts, Collector& into) const;
  void lower_load(ElementId e, Collector& into) const;

  const Consistency& consistency_;
  const Landing& landing_;
  const Costs& costs_;
  const ReadingCosts& reading_costs_;
  const Moves moves_;
  const ConductionGraph& graph_;
};

}  // namespace ringtrue
