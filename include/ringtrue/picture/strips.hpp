#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What a strip is here: a part whose places have a panel and a field side, as `X1` for `X1:1` to `X1:12`,
/// whether the parts list it or only the wires do.
struct TerminalStrip {
  std::string_view name;        ///< a view into the netlist
  std::vector<PlaceId> places;  ///< in the order in which people count
};

/// All strips, by name in the order in which people count. Cost: linear, but for sorting.
[[nodiscard]] std::vector<TerminalStrip> terminal_strips(const Netlist& netlist);

/// The strip of that name, or on which the point of that name is: `X3`, `-X3`, `X3:5`, `X3:5.ext`;
/// in another case where only one fits.
/// @errors unknown_object with the nearest names.
[[nodiscard]] Result<TerminalStrip> find_strip(std::string_view typed, const Netlist& netlist);

}  // namespace ringtrue
