#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "ringtrue/diagnose/next.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/graph/overlay.hpp"

namespace ringtrue {

/// What the readings are to show.
enum class Goal : std::uint8_t {
  detect,    ///< every break, as far as a buzzer can
  identify,  ///< also every miswire, swap, shift and joined neighbours
};
[[nodiscard]] std::string_view word(Goal goal);  ///< `detect`, `identify`

/// Which nets are shown to be apart, with Goal::identify.
enum class Isolation : std::uint8_t {
  neighbours,  ///< neighbouring points
  all,         ///< every two nets, by two-group tests
};
[[nodiscard]] std::string_view word(Isolation isolation);  ///< `neighbours`, `all`

/// What is to be shown, with which meter, and what may be done for it.
struct PlanOptions {
  Goal goal = Goal::detect;
  Isolation isolation = Isolation::neighbours;
  /// Also contacts that conduct only when something is operated, and loads in ohms.
  bool all_elements = false;
  /// A terminal's body between its sides counts as an element that can be broken. False: it is taken as
  /// sound.
  bool bodies = true;
  /// Conductor ends may be lifted where nothing else shows a break.
  bool lifts = true;
  MeterSettings meter;  ///< of the readings planned
  Meters meters;        ///< of those that were taken before
  Efforts efforts;
};

/// What a reading of the plan has to show.
enum class Expected : std::uint8_t { beep, open, ohms };
[[nodiscard]] std::string_view word(Expected expected);  ///< `beep`, `open`, `ohms`

/// A reading to take.
struct PlannedReading {
  PointId from = PointId::none,
          to = PointId::none;   ///< red and black; loose ends as the condition numbers them
  std::uint32_t condition = 0;  ///< in Plan::conditions
  Expected expected = Expected::beep;
  OhmInterval ohms;               ///< for Expected::ohms: what the meter may show
  bool polarity_matters = false;  ///< turned round, a diode could make it show something else
  /// Elements whose break it reveals and that no reading before it in the plan proves.
  std::vector<ElementId> proves;
};

/// A condition to set, once, for the readings that name it.
struct PlanCondition {
  std::string text;  ///< as a file of readings has it; empty at rest
  ConditionOverlay made;
  std::size_t lifts = 0;  ///< conductor ends lifted in it that no earlier condition lifts
};

/// Why no reading of the plan reveals the break of an element.
enum class WhyNotCovered : std::uint8_t {
  parallel,          ///< other copper carries the current past it, and nothing can be opened or lifted there
  needs_lift,        ///< the same, and lifts were not wanted
  load_may_beep,     ///< a load beside it may make the buzzer sound all the same
  copper_too_long,   ///< the copper itself may have too many ohms for the buzzer
  value_not_stated,  ///< a load whose ohms the drawing doesn't state
  load_beside_load,  ///< a load whose break changes the ohms too little, for what is in parallel
  not_operable,      ///< a contact that nothing closes
};
[[nodiscard]] std::string_view word(WhyNotCovered why);  ///< `parallel`, `needs-lift`, ...

/// An element that no reading of the plan shows.
struct NotCovered {
  ElementId element = ElementId::none;
  WhyNotCovered why = WhyNotCovered::parallel;
  /// Where copper is in the way: what carries the current past it, from its one end to the other. For loads:
  /// those that may make the buzzer sound.
  std::vector<ElementId> witness;
};

/// What it takes to walk through some readings. Probes put down at first, and again after a condition was
/// set, count as moved.
struct WalkFigures {
  std::size_t readings = 0;
  std::size_t moves = 0;       ///< a probe put on another point than before
  std::size_t conditions = 0;  ///< set, other than at rest
  double effort = 0;           ///< in units of Efforts::reading
};

/// Tests of two groups of nets, each group joined by leads on a common clip, with one reading between the
/// clips: open, if no net of the one is joined to any of the other.
///
/// Nets that loads join would make many of them together beep, so they form a bundle that is always on one
/// clip: the tests part the bundles, and say nothing of two nets of one bundle.
struct GroupTests {
  std::uint32_t condition = 0;                ///< in Plan::conditions
  std::vector<std::vector<PointId>> bundles;  ///< a point of each net
  /// By bundle: digit k (bit k) says on which clip it is in test k. No two are the same.
  std::vector<std::uint32_t> codes;
  std::uint32_t tests = 0;        ///< ceil(log2 n) for n bundles, the fewest that part all
  std::uint32_t tests_stuck = 0;  ///< ceil(log2(n + 2)): no code of zeros or of ones alone; it also shows a
                                  ///< bundle joined to a clip's own lead (Goel and McMahon 1982, from memory)
  std::uint32_t tests_locating = 0;  ///< 2 ceil(log2 n): each code and its complement, which locate better
                                     ///< (Wagner 1987, from memory)
};

/// Readings to take, in order, and what they leave unshown.
struct Plan {
  /// Number of the first reading's id, P1 or what goes on after those already used.
  std::size_t first_id = 1;
  std::vector<PlanCondition> conditions;  ///< 0 is at rest
  std::vector<PlannedReading> readings;   ///< in walking order; those of one condition stand together
  std::vector<NotCovered> not_covered;    ///< by element
  /// What was to be covered, and how much of it the readings taken before (`done`) prove already.
  std::size_t targets = 0, proven_before = 0;
  /// The fewest beeps that show at rest alone what can be shown so, and the beeps at rest of this plan: fewer
  /// where whole nets are read under another condition, more where copper is too long for one beep.
  std::size_t least_at_rest = 0, at_rest = 0;
  std::size_t lifts = 0;  ///< conductor ends to be lifted; for breaks in copper alone the fewest (Loops)
  WalkFigures walk, wire_by_wire;
  /// With Goal::identify on a very large panel: landings and exchanges were asked within each part only, and
  /// no contacts operated to tell their two sides apart.
  bool near_faults_only = false;
  std::vector<GroupTests> group_tests;  ///< with Isolation::all
};

/// What was read before a plan is made.
struct Done {
  const Readings* readings = nullptr;
  const Comparison* comparison = nullptr;
  const std::vector<std::uint8_t>* proven = nullptr;  ///< by element, of Findings
};

/// Plans the fewest readings that prove the wiring.
///
/// Goal::detect: after each block of parallel copper is contracted to a point, the copper of a net at rest is
/// a tree; with L leaves it takes ceil(L/2) readings from leaf to leaf, and no fewer can do, since each leaf
/// needs a probe. What lies in a block needs a fuse taken out or an end lifted: the fewest lifts, then the
/// fewest readings. A reading counts as proof only if the buzzer must fall silent on the break, whatever the
/// loads beside it are; else it carries the pull that makes sure, or the element is not covered.
/// Cost: linear in the size of the netlist; where loads may matter, a network to be solved for each element
/// there.
[[nodiscard]] Plan make_plan(const ConductionGraph& graph, const PlanOptions& options = {},
                             const Done& done = {});

/// The plan's readings as a file of readings would have them, each with the value that the drawing expects.
/// A reading in ohms has the middle of what may be shown, or twice the least where there is no most.
[[nodiscard]] Readings as_readings(const Plan& plan, const ConductionGraph& graph);

/// The readings that count of those taken before, and those of the plan behind them, in one list. `taken` is
/// how many of the former there are.
struct TakenAndPlanned {
  Readings readings;
  std::size_t taken = 0;
};
[[nodiscard]] TakenAndPlanned taken_and_planned(const Done& done, const Plan& plan,
                                                const ConductionGraph& graph);

/// Says of a fault whether the plan's tests of two groups show it: a joint of two nets that are ever on
/// different clips. All must outlive it.
[[nodiscard]] std::function<bool(const Fault&)> shown_by_group_tests(const Plan& plan,
                                                                     const ConductionGraph& graph);

}  // namespace ringtrue
