#pragma once
#include <string>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/graph/graph.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

// How each kind of record conducts: one place for the table of kinds. All numbers are estimates of this
// project unless a source is named, and chosen so that the true value lies inside.

inline constexpr OhmInterval k_conductor_interval{Ohms{0}, Ohms{0.2}};
/// A conductor of stated length and unstated size counts as 0.14 mm², the smallest that control cable usually
/// has (common practice, no source): 1.2 * 17.241 / 0.14.
inline constexpr double k_thinnest_ohms_per_km = 147.8;

[[nodiscard]] ElementKind element_kind_of(const Part& part);
/// Nothing operated, selectors in position 0 (else the lowest), breakers on, fuses in, links closed, field
/// absent.
[[nodiscard]] bool conducts_at_rest(const Part& part, const Netlist& netlist);
/// The contact's state when its actuator is operated, or its selector stands in `position`.
[[nodiscard]] bool conducts_in_position(const Part& part, int position);
[[nodiscard]] OhmInterval part_interval(const Part& part);
/// The electronics between a channel's point and its common.
[[nodiscard]] OhmInterval channel_interval(const Channel& channel);
/// `K1:13-14`, `X1:5`, `F3:1-2`.
[[nodiscard]] std::string part_row_name(const Part& part, const PointTable& points);

}  // namespace ringtrue
