#pragma once
#include <cstdint>
#include <string>
#include <vector>

#include "cover.hpp"
#include "ringtrue/graph/overlay.hpp"
#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// What to pull and to lift so that breaks in the parallel copper of a net show.
struct Parting {
  std::vector<std::string> pulled;  ///< settings of a condition
  struct Lift {
    ElementId conductor = ElementId::none;
    End end = End::a;
  };
  std::vector<Lift> lifted;
};

/// The condition that a parting makes.
[[nodiscard]] PlanCondition condition_of(const Parting& parting, const ConductionGraph& graph);

/// The parallel copper of one net at rest: wanted elements that are no single connections, and what they are
/// parallel with.
///
/// As long as a loop is whole no break in it shows. What can be pulled (a fuse, a link) opens loops without a
/// lift; it is shown itself once the rest no longer joins its ends. So lifts have to open every loop of the
/// rest that isn't of bridges, busbars and the like alone, and to part the ends of what can be pulled. The
/// fewest that do are found by trying all sets of conductors, smallest first; where those are too many, by
/// opening every loop with what can be pulled in place, which may take more. Among sets of the same size, and
/// ends to lift them at, the one that takes the fewest readings is taken, likewise as far as they can all be
/// tried, and from there on by exchanging one lift at a time.
class Loops {
 public:
  /// `elements`: of one net, conducting at rest, no single connections. `at_rest`: readings that the net
  /// takes at rest. `number_of`: as for a Numbering, free to be used. All must outlive it.
  Loops(const ConductionGraph& graph, std::vector<ElementId> elements,
        const std::vector<std::uint8_t>& wanted, std::size_t at_rest, std::vector<std::uint32_t>& number_of);

  struct Partings {
    std::vector<Parting> all;
    /// The first parting shows all that's wanted of the rest of the net as well, and so it takes fewer
    /// readings than with those at rest.
    bool first_is_for_whole_net = false;
  };
  [[nodiscard]] Partings part(bool with_lifts) const;

 private:
  [[nodiscard]] bool is_liftable(ElementId e, End end) const;
  [[nodiscard]] bool opens_enough(const std::vector<ElementId>& lifted) const;
  [[nodiscard]] std::vector<ElementId> beyond_a_tree() const;
  [[nodiscard]] std::vector<std::vector<ElementId>> fewest_lifts() const;
  [[nodiscard]] std::vector<Parting::Lift> at_best_ends(
      const std::vector<std::vector<ElementId>>& sets) const;
  [[nodiscard]] std::vector<Parting::Lift> after_exchanges(std::vector<Parting::Lift> lifts) const;
  struct Pulls {
    std::vector<Parting> partings;
    std::size_t by_first = 0;     ///< readings for the wanted elements of the loops
    std::size_t by_others = 0;    ///< by the other partings, for what the first leaves
    std::vector<ElementId> left;  ///< wanted and not shown
  };
  [[nodiscard]] Pulls with_pulls(const std::vector<Parting::Lift>& lifts) const;
  [[nodiscard]] std::vector<PointId> points_under(const PlanCondition& condition) const;
  [[nodiscard]] std::vector<ElementId> shown_under(const Parting& parting) const;
  [[nodiscard]] std::size_t readings_for(const std::vector<ElementId>& elements,
                                         const Parting& parting) const;
  [[nodiscard]] std::size_t readings_for_whole_net(const Parting& parting) const;
  [[nodiscard]] std::pair<std::size_t, std::size_t> badness(const std::vector<Parting::Lift>& lifts) const;

  const ConductionGraph& graph_;
  std::vector<ElementId> elements_;
  std::vector<ElementId> pullable_, conductors_, fixed_;  ///< of which the first two can be opened
  const std::vector<std::uint8_t>& wanted_;
  std::size_t at_rest_;
  std::vector<std::uint32_t>& number_of_;
  mutable std::vector<std::uint8_t> wanted_here_;  ///< by element: wanted and in these loops
};

}  // namespace ringtrue
