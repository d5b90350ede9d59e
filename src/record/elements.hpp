#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/record/record.hpp"

namespace ringtrue::record {

enum class ElementState : std::uint8_t {
  proven,
  in_finding,  ///< a likeliest explanation of a finding touches it
  not_proven,
  absent,  ///< of a field device or its cable: no reading in the shop can prove it
};

/// What readings show of an element of the drawing.
struct ElementStanding {
  ElementId element = ElementId::none;
  ElementState state = ElementState::not_proven;
};

/// Every element that a row of the drawing gives, in its order.
[[nodiscard]] std::vector<ElementStanding> standings(const RecordSource& source);

}  // namespace ringtrue::record
