#pragma once
#include <cstdint>
#include <vector>

#include "network.hpp"
#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

/// Up to `most` ways, none with a load of another. Each is the one of least resistance by the lowest values,
/// then of fewest elements, that is left. Where copper joins the two, the best copper way alone.
[[nodiscard]] std::vector<Way> ways_of(const Network& network, std::size_t most);

/// Elements of which at least one has to be altered before the upper end rises above the limit, by number:
/// those of ways that together stay below it.
[[nodiscard]] std::vector<ElementId> elements_to_raise(const Network& network, Ohms limit);

/// By edge of a way: 1 if anything else in the network, copper or load, leads past it. Linear.
[[nodiscard]] std::vector<std::uint8_t> bypassed_edges(const Network& network, const Way& way);

/// Elements of which at least one has to be opened before the lower end rises above the limit, by number.
/// Empty if it's above already. They are those of ways that together come to the limit: without a load in
/// common they are in parallel at best.
[[nodiscard]] std::vector<ElementId> elements_to_break(const Network& network, Ohms limit);

}  // namespace ringtrue
