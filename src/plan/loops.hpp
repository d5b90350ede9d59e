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
/// As long as a loop is whole no break in it shows. So no fewer lifts do than it takes to open every loop
/// that isn't made of bridges, busbars and the like alone: one for each conductor beyond a spanning tree of
/// them. Which ones, and at which end, decides how many leaves the net has then; among all choices, or where
/// there are very many those that single exchanges lead to, the one that takes the fewest readings is taken.
/// What can be pulled (a fuse, a link) is pulled instead, where nothing in the loop needs a lift all the
/// same.
class Loops {
 public:
  /// `elements`: of one net, conducting at rest, no single connections. `at_rest`: readings that the net
  /// takes at rest. `number_of`: as for a Numbering, free to be used. All must outlive it.
  Loops(const ConductionGraph& graph, std::vector<ElementId> elements,
        const std::vector<std::uint8_t>& wanted, std::size_t at_rest, std::vector<std::uint32_t>& number_of);

  struct Partings {
    std::vector<Parting> all;
    /// The last parting alone shows all that is wanted of the net, and takes fewer readings than with those
    /// at rest.
    bool last_for_whole_net = false;
  };
  [[nodiscard]] Partings part(bool with_lifts) const;

 private:
  [[nodiscard]] bool is_liftable(ElementId e, End end) const;
  [[nodiscard]] std::vector<ElementId> parted_by(const std::vector<ElementId>& pullable) const;
  [[nodiscard]] std::vector<ElementId> beyond_a_tree(const std::vector<ElementId>& fixed,
                                                     const std::vector<ElementId>& conductors) const;
  [[nodiscard]] Parting fewest_readings(const std::vector<ElementId>& fixed,
                                        const std::vector<ElementId>& conductors, Parting parting) const;
  struct Counts {
    std::size_t in_loops = 0;  ///< for the wanted elements of the loops
    std::size_t whole = 0;     ///< for all that is wanted of the net
  };
  [[nodiscard]] Counts count_under(const Parting& parting) const;
  [[nodiscard]] std::size_t readings_with(const Parting& parting) const;

  const ConductionGraph& graph_;
  std::vector<ElementId> elements_;
  const std::vector<std::uint8_t>& wanted_;
  std::size_t at_rest_;
  std::vector<std::uint32_t>& number_of_;
  mutable std::vector<std::uint8_t> wanted_here_;  ///< by element: wanted and in these loops
};

}  // namespace ringtrue
