#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/model/netlist_builder.hpp"

namespace ringtrue {

namespace load {

/// A row of a list in which one cell names all terminals of a bridge: `1-5`, `1,3,5`, `1-3;7`.
struct BridgeRow {
  std::string_view strip, terminals, side, sheet, potential, note;
};

/// The terminals in order, with those between the ends of a range; empty if the text is no such list. A range
/// goes up and has whole numbers at its ends; it has at most 1,000 terminals.
[[nodiscard]] std::vector<std::string> bridged_terminals(std::string_view text);

}  // namespace load

template <>
std::span<const FieldOf<load::BridgeRow>> fields_of<load::BridgeRow>();

}  // namespace ringtrue
