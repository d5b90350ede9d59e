#pragma once
#include <cstdint>
#include <memory>
#include <unordered_map>
#include <utility>
#include <vector>

#include "ringtrue/compare/compare.hpp"
#include "ringtrue/graph/view.hpp"

// What a reading rests on in one revision.

namespace ringtrue {

/// The readings of one comparison, and the graph under each of its conditions.
class Resting {
 public:
  /// All must outlive it.
  Resting(const ConductionGraph& graph, const Readings& readings, const Comparison& comparison,
          const std::vector<std::uint8_t>& touched);

  /// Two nets were, or may have been, apart for it: it says something of all that is on either.
  [[nodiscard]] bool rests_on_nets(std::uint32_t reading) const;
  /// A touched clamp on the net of either probe; `none` if there is none.
  [[nodiscard]] PointId touched_on_nets(std::uint32_t reading) const;
  /// The drawn points on the nets of its probes, sorted.
  [[nodiscard]] std::vector<PointId> points_on_nets(std::uint32_t reading) const;

  /// What a meter shows, as far as this kind of reading tells: for a buzzer what it does, else the ohms.
  struct Prediction {
    bool is_one_net = false;  ///< copper alone makes a beep
    Verdict beep = Verdict::either, open = Verdict::either, own = Verdict::either;
    OhmInterval ohms;
  };
  [[nodiscard]] Prediction prediction(std::uint32_t reading) const;
  /// The same if everything on a touched clamp were away.
  [[nodiscard]] Prediction prediction_without_touched(std::uint32_t reading) const;
  /// A touched clamp on the way that it goes through the fewest elements; `none` where there is none.
  [[nodiscard]] PointId touched_on_way(std::uint32_t reading) const;

  /// Elements without which it would have come out otherwise, sorted; none if it contradicts the drawing.
  [[nodiscard]] std::vector<ElementId> proven_by(std::uint32_t reading) const;

  [[nodiscard]] const Probing& probing(std::uint32_t reading) const { return comparison_.probings[reading]; }
  [[nodiscard]] const ConditionOverlay& condition(std::uint32_t reading) const {
    return comparison_.conditions.overlays[readings_.rows[reading].condition];
  }

 private:
  [[nodiscard]] const View& view(std::uint32_t reading) const {
    return views_[readings_.rows[reading].condition];
  }
  [[nodiscard]] Prediction predicted(const View& view, std::uint32_t reading) const;
  [[nodiscard]] std::vector<ElementId> candidates(std::uint32_t reading) const;

  const ConductionGraph& graph_;
  const Readings& readings_;
  const Comparison& comparison_;
  const std::vector<std::uint8_t>& touched_;
  std::vector<ElementId> on_touched_;  ///< elements with a touched end
  std::vector<View> views_;            ///< by condition
  /// By condition, made when they are asked for first: the same without what is on touched clamps, and the
  /// drawn points of each net that the condition relabels.
  struct Without {
    Without(const ConductionGraph& graph, Overlay made) : overlay(std::move(made)), view(graph, overlay) {}
    Overlay overlay;
    View view;  ///< refers to it
  };
  mutable std::vector<std::unique_ptr<Without>> without_;
  mutable std::vector<std::unordered_map<NetId, std::vector<PointId>>> points_of_net_;
};

[[nodiscard]] bool is_same(const Resting::Prediction& x, const Resting::Prediction& y);

}  // namespace ringtrue
