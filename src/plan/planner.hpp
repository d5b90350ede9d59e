#pragma once
#include <set>
#include <string>
#include <unordered_map>
#include <vector>

#include "break_check.hpp"
#include "cover.hpp"
#include "loops.hpp"
#include "ringtrue/diagnose/certificate.hpp"
#include "ringtrue/plan/plan.hpp"

namespace ringtrue {

/// A plan while it is made: what is wanted still, and the readings so far.
class Planner {
 public:
  Planner(const ConductionGraph& graph, const PlanOptions& options, const Done& done);

  /// With all pulled that can be pulled: breaks and wrong landings within each piece of copper. First of all.
  void cover_prepared();
  /// What reveals every miswire, swap, shift and joined neighbours that the readings so far don't. Last of
  /// all.
  void identify();
  /// Breaks of what conducts at rest: at rest, with loops opened, with loads unplugged.
  void cover_at_rest();
  /// Contacts that conduct only when something is operated.
  void cover_operated();
  /// Loads, in ohms.
  void cover_loads();
  /// Two-group tests of all nets.
  void isolate_all();
  [[nodiscard]] Plan finish();

 private:
  static constexpr std::size_t k_no_reading = static_cast<std::size_t>(-1);
  /// Beeps that a load may make even though an element on the way is broken.
  struct Unsure {
    std::uint32_t condition = 0;
    std::size_t reading = 0;  ///< in plan_.readings, if it proves something; else k_no_reading
    Stretch stretch;          ///< `across`: what it doesn't prove
  };

  void set_targets();
  enum class Pulled : std::uint8_t { what_may_beep, every_load };
  [[nodiscard]] PlanCondition prepared(Pulled pulled) const;
  void leave_out_done(const View& view, const std::string& condition, std::vector<std::uint8_t>& wanted);
  void cover_pieces(PlanCondition made, const PlanCondition& before);
  void want(ElementId e);
  [[nodiscard]] bool is_wanted(ElementId e) const { return wanted_[index(e)] != 0; }
  /// The number of a condition in the plan; added if it's new.
  std::uint32_t condition(PlanCondition made);
  [[nodiscard]] std::vector<PointId> points_under(const PlanCondition& condition, NetId net) const;
  [[nodiscard]] std::vector<std::vector<ElementId>> loops(const View& view, const Cover& cover) const;
  void part(const std::vector<ElementId>& loop, const Loops::Partings& partings);
  /// Plans the beeps of a cover; what they prove is wanted no longer.
  void add(std::uint32_t condition, const View& view, const Cover& cover, const std::vector<Stretch>& beeps);
  void add_one(std::uint32_t condition, const BreakCheck& check, const Stretch& beep);
  void add_in_pieces(std::uint32_t condition, const View& view, const BreakCheck& check, const Stretch& beep);
  void add_proposed(const ProposedReading& proposed, const std::vector<std::string>& conditions);
  void cover_closed(const std::string& setting, const std::vector<ElementId>& contacts);
  void cover_load(ElementId load, std::uint32_t condition, const View& view);
  void make_sure();
  [[nodiscard]] bool make_sure(const Unsure& unsure);
  [[nodiscard]] PlannedReading read_under(const PlanCondition& made, const Unsure& unsure,
                                          const std::vector<ElementId>& asked);
  [[nodiscard]] PlanCondition pulled_for(const Unsure& unsure);
  [[nodiscard]] PlanCondition settled_for(const Unsure& unsure);
  [[nodiscard]] std::string setting_against(ElementId e, const Unsure& unsure,
                                            const PlanCondition& now) const;
  [[nodiscard]] PlanCondition with(const PlanCondition& base, const std::vector<std::string>& settings) const;
  void make_sure_in_pieces(const Unsure& unsure);
  bool add_between_own_ends(ElementId e, std::uint32_t condition);
  void leave(ElementId e, WhyNotCovered why, std::vector<ElementId> witness);
  [[nodiscard]] std::vector<ElementId> shown_with_lifts(const std::vector<ElementId>& loop);
  void make_room_for(const PlanCondition& condition);
  void leave_in_loop(const std::vector<ElementId>& loop);
  void leave_unsure(const Unsure& unsure);
  void drop_unused_conditions();
  void count_lifts();
  void drop_what_is_proven_after_all();
  void list_proofs_once();
  [[nodiscard]] std::vector<ElementId> way_past(const View& view, ElementId e) const;

  const ConductionGraph& graph_;
  const PlanOptions& options_;
  const Done& done_;
  Plan plan_;
  std::vector<std::uint8_t> wanted_;   ///< by element: to be proven still
  std::vector<std::uint8_t> in_loop_;  ///< by element: wanted and in the loops at hand; else 0
  std::vector<std::uint32_t> number_of_, spare_number_of_;
  std::vector<Unsure> unsure_;
  std::size_t settled_ = 0;                  ///< how often the fewest steps were looked for
  std::set<std::uint32_t> sure_conditions_;  ///< with loads unplugged, so that readings are sure
  std::unordered_map<std::string, std::uint32_t> condition_of_text_;
};

}  // namespace ringtrue
