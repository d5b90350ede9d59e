#pragma once
#include <cstddef>
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <vector>

#include "consistency.hpp"
#include "landing.hpp"
#include "rows_of_wires.hpp"

namespace ringtrue {

/// The shifts of wires that may be assumed beside other faults.
///
/// If no further fault may follow a run, it leaves out those that are seen not to do:
/// - an agreeing beep refutes them, since they leave one of its leads on a piece of copper that has no loads
///   and doesn't reach the other lead;
/// - the reading to be explained saw no path, and they leave one of copper.
/// What that piece or path is depends on which of the wires at it the run moves, and on no others; so all
/// runs that move the same of these fail for the same reason, and aren't even made. Of the hundreds of runs
/// through a terminal few are tried.
class Shifts {
 public:
  enum class Runs : std::uint8_t {
    none,            ///< connectors exchanged only
    last_of_faults,  ///< those that may explain the reading with the faults and nothing else
    all
  };
  /// `reading`: which the faults leave impossible.
  Shifts(const Landing& landing, const Consistency& consistency, std::span<const Fault> faults,
         ReadingId reading, Runs runs)
      : landing_(landing),
        consistency_(consistency),
        graph_(landing.graph()),
        faults_(faults),
        reading_(reading),
        runs_(runs) {}

  /// Those that move the wires drawn on a point.
  [[nodiscard]] std::vector<Fault> of(PointId drawn);

 private:
  /// Holds for each run by the same places that begins up to `first_in` but behind `after`, and ends from
  /// `last_in` on but ahead of `before`.
  struct Refutation {
    int places;
    std::ptrdiff_t after, first_in, last_in, before;

    [[nodiscard]] bool holds_for(const RowOfWires::Run& run) const;
  };
  class Trial;

  void add_last_runs(PointId drawn, std::vector<Fault>& shifts);

  const Landing& landing_;
  const Consistency& consistency_;
  const ConductionGraph& graph_;
  std::span<const Fault> faults_;
  ReadingId reading_;
  Runs runs_;
  struct Row {
    RowOfWires wires;
    std::vector<Refutation> refutations;
  };
  std::map<PointId, Row> rows_;  ///< by first point
};

}  // namespace ringtrue
