#pragma once
#include <cstdint>
#include <vector>

#include "landing.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Copper that something has to be joined to, so that of a large plant only what lies on it is looked at.
class FarSide {
 public:
  FarSide(const View& view, const Landing& landing, const std::vector<PointId>& points);

  /// Calls `visit(block)` for the blocks on the far side, all of the plant's without one, by number.
  template <class Visit>
  static void for_each_block(const FarSide* far, const Landing& landing, Visit&& visit);
  /// The same for movable conductors.
  template <class Visit>
  static void for_each_conductor(const FarSide* far, const Landing& landing, Visit&& visit);

  /// The conductor is movable and has an end there, as drawn or under the view.
  [[nodiscard]] bool is_at(ElementId e) const;

 private:
  std::vector<std::uint32_t> blocks_;  ///< with a point there, sorted
  std::vector<ElementId> conductors_;  ///< see `is_at`, sorted
};

template <class Visit>
void FarSide::for_each_block(const FarSide* far, const Landing& landing, Visit&& visit) {
  if (far != nullptr)
    for (const std::uint32_t block : far->blocks_) visit(block);
  else
    for (std::uint32_t block = 0; block < landing.block_count(); ++block) visit(block);
}

template <class Visit>
void FarSide::for_each_conductor(const FarSide* far, const Landing& landing, Visit&& visit) {
  if (far != nullptr) {
    for (const ElementId e : far->conductors_) visit(e);
    return;
  }
  for (std::uint32_t i = 0; i < landing.graph().conductor_count(); ++i)
    if (landing.is_movable(ElementId{i})) visit(ElementId{i});
}

}  // namespace ringtrue
