#pragma once
#include <string>
#include <string_view>
#include <utility>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/condition.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// A point as someone typed it.
struct TypedPoint {
  FoundPoint found;
  bool is_literal = true;  ///< false: a wire, tag or address stood for it
};

/// Finds a point by its name, or by what is printed beside it: a channel's tag or address stands for the
/// channel's point, a wire number for the `from` end of that wire. Case matters only where two would match.
/// @errors bad_point with the nearest names; ambiguous_side for a bare separable terminal.
[[nodiscard]] Result<TypedPoint> find_typed_point(std::string_view typed, const Netlist& netlist);

/// Both ends of the one conductor of that number.
/// @errors unknown_object if there is none, or several (then with their ends).
[[nodiscard]] Result<std::pair<FoundPoint, FoundPoint>> find_typed_wire(std::string_view typed,
                                                                        const Netlist& netlist);

}  // namespace ringtrue
