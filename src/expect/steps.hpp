#pragma once
#include <functional>
#include <optional>

#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

/// A reading whose condition can be added to. Finds the probes' points again where they are loose ends.
class Asked {
 public:
  Asked(const ConductionGraph& graph, const Probing& probing, std::string_view when);

  /// Calls `use(view, probing)` with further settings added to the condition; false if they contradict it or
  /// take a probe's loose end away.
  bool with(std::span<const std::string> settings,
            const std::function<void(const View&, const Probing&)>& use) const;
  [[nodiscard]] const ConductionGraph& graph() const { return graph_; }
  [[nodiscard]] const Probing& probing() const { return probing_; }

 private:
  struct Loose {
    ElementId conductor = ElementId::none;
    End end = End::a;
  };
  [[nodiscard]] static Loose loose_end(PointId p, const ConditionOverlay& condition);
  [[nodiscard]] static bool find(const Loose& loose, const ConditionOverlay& condition, PointId& p);

  const ConductionGraph& graph_;
  Probing probing_;
  std::string when_;
  Loose from_, to_;
};

/// Under the steps so far, elements of which one has to be opened still. Nothing: the steps go too far.
/// Empty: they are enough.
using ToBreak = std::function<std::optional<std::vector<ElementId>>(const View&, const Probing&)>;

/// The fewest settings that leave nothing to break, pulls before lifts where as few of either do.
[[nodiscard]] std::optional<Steps> fewest_steps(const Asked& asked, const ToBreak& to_break);

}  // namespace ringtrue
