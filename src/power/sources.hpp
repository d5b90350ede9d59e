#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/graph/graph.hpp"

namespace ringtrue::power {

enum class Fed : std::uint8_t {
  always,   ///< no incoming row says what switches it
  outside,  ///< by the supply from outside the panel
  inputs,   ///< by incoming rows of its supply or transformer
};

/// A potential that a source makes, other than one that is only a named place behind a fuse of another.
struct Origin {
  std::uint32_t potential = 0;  ///< index into the netlist's
  PointId point = PointId::none;
  std::uint32_t system = 0;
  double volts = 0;
  bool alternating = false;
  Fed fed = Fed::outside;
  std::vector<ElementId> inputs;
};

/// Potentials whose voltages against each other are stated.
struct System {
  PointId reference = PointId::none;  ///< its minus or neutral; `none`: nothing can be stated
  bool three_phase = false;           ///< three lines of one voltage
};

struct Sources {
  std::vector<Origin> origins;
  std::vector<System> systems;

  /// No voltage stands between the two, for certain.
  [[nodiscard]] bool are_alike(std::size_t a, std::size_t b) const;
};

/// `whole`: by point, a label that all points joined by copper have in common with every protective device
/// closed.
[[nodiscard]] Sources find_sources(const ConductionGraph& graph, const std::vector<std::uint32_t>& whole);

}  // namespace ringtrue::power
