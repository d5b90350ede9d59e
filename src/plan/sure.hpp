#pragma once
#include <set>
#include <string>
#include <vector>

#include "draft.hpp"

namespace ringtrue {

/// Readings that a load beside the copper could make beep although the copper is broken: with what is to be
/// unplugged before them, or, where nothing helps, the elements that they leave unproven.
class MakingSure {
 public:
  explicit MakingSure(Draft& draft) : draft_(draft), graph_(draft.graph) {}

  /// Settles all that is noted in Draft::unsure.
  void run();

 private:
  [[nodiscard]] bool make_sure(const Unsure& unsure);
  void make_sure_in_pieces(const Unsure& unsure);
  bool add_between_own_ends(ElementId e, std::uint32_t condition);
  [[nodiscard]] PlannedReading read_under(const PlanCondition& made, const Unsure& unsure,
                                          const std::vector<ElementId>& asked);
  [[nodiscard]] PlanCondition pulled_for(const Unsure& unsure);
  [[nodiscard]] PlanCondition settled_for(const Unsure& unsure);
  [[nodiscard]] std::string setting_against(ElementId e, const Unsure& unsure,
                                            const PlanCondition& now) const;
  [[nodiscard]] PlanCondition with(const PlanCondition& base, const std::vector<std::string>& settings) const;
  void leave_unsure(const Unsure& unsure);

  Draft& draft_;
  const ConductionGraph& graph_;
  std::size_t settled_ = 0;                  ///< how often the fewest steps were looked for
  std::set<std::uint32_t> sure_conditions_;  ///< with loads unplugged, so that readings are sure
};

}  // namespace ringtrue
