#pragma once
#include <string>
#include <unordered_map>
#include <vector>

#include "break_check.hpp"
#include "cover.hpp"
#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// A beep that a load may make even though an element on the way is broken.
struct Unsure {
  static constexpr std::size_t k_no_reading = static_cast<std::size_t>(-1);

  std::uint32_t condition = 0;
  std::size_t reading = 0;  ///< in Draft::plan, if it proves something; else k_no_reading
  Stretch stretch;          ///< `across`: what it doesn't prove
};

/// A plan while it is made: what is wanted still, and the readings so far. Each part of the planning takes it
/// and leaves less wanted.
struct Draft {
  /// Wants what conducts at rest. All must outlive it.
  Draft(const ConductionGraph& graph, const PlanOptions& options, const Done& done);

  /// One element more, unless it was proven before.
  void want(ElementId e);
  [[nodiscard]] bool is_wanted(ElementId e) const { return wanted[index(e)] != 0; }
  /// The number of a condition in the plan; added if it's new.
  std::uint32_t condition(PlanCondition made);
  /// Points of a net at rest, and the loose ends that the condition makes.
  [[nodiscard]] std::vector<PointId> points_under(const PlanCondition& condition, NetId net) const;
  /// Lets `spare_number_of` hold the loose ends of the condition.
  void make_room_for(const PlanCondition& condition);
  /// Plans beeps; what they prove is wanted no longer, what they don't for certain is noted in `unsure`.
  void add(std::uint32_t condition, const View& view, const Cover& cover, const std::vector<Stretch>& beeps);
  /// Gives the element up.
  void leave(ElementId e, WhyNotCovered why, std::vector<ElementId> witness);
  /// What carries current past the element, from its one end to the other.
  [[nodiscard]] std::vector<ElementId> way_past(const View& view, ElementId e) const;
  /// The plan in walking order, with its figures.
  [[nodiscard]] Plan finish();

  const ConductionGraph& graph;
  const PlanOptions& options;
  const Done& done;
  Plan plan;
  std::vector<std::uint8_t> wanted;            ///< by element: to be proven still
  std::vector<std::uint32_t> spare_number_of;  ///< for a Numbering, free to be used
  std::vector<Unsure> unsure;
  std::unordered_map<std::string, std::uint32_t> condition_of_text;

 private:
  void add_one(std::uint32_t condition, const BreakCheck& check, const Stretch& beep);
  void add_in_pieces(std::uint32_t condition, const View& view, const BreakCheck& check, const Stretch& beep);
  void drop_unused_conditions();
  void count_lifts();
  void drop_what_is_proven_after_all();
  void list_proofs_once();
};

}  // namespace ringtrue
