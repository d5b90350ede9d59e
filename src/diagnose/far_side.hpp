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

  /// Blocks with a point there, by number.
  [[nodiscard]] const std::vector<std::uint32_t>& blocks() const { return blocks_; }
  /// Movable conductors with an end there, as drawn or under the view, by number.
  [[nodiscard]] const std::vector<ElementId>& conductors() const { return conductors_; }
  [[nodiscard]] bool is_at(ElementId e) const;

 private:
  std::vector<std::uint32_t> blocks_;
  std::vector<ElementId> conductors_;
};

}  // namespace ringtrue
