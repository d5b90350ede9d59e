#pragma once
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "ringtrue/base/error.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue {

/// What an object may be set to. A state that doesn't fit the kind of a part is an error.
enum class State : std::uint8_t {
  operated,
  position,
  out,
  off,
  on,
  open,
  unplugged,
  lifted,
  jumpered,
  power_on,
  field_connected
};

/// One `OBJECT=STATE` of a condition, looked up in the netlist.
struct Setting {
  State state = State::operated;
  int position = 0;  ///< for `position`
  std::vector<std::uint32_t>
      parts;                    ///< rows of `parts` that it concerns (not for lifted, jumpered, power, field)
  std::string object;           ///< as written
  std::uint32_t conductor = 0;  ///< for `lifted`: index into `Netlist::conductors`
  bool lifted_from = false;     ///< for `lifted`: the `from` end (else the `to` end)
  PointId from = PointId::none, to = PointId::none;  ///< for `jumpered`
};

/// The stated state under which a reading is taken. Empty means at rest.
struct Condition {
  std::vector<Setting>
      settings;  ///< sorted by object, then state: the same condition in any order is equal text
  [[nodiscard]] bool has(State state) const;
};

/// The conductors with an end on a point, by number.
using ConductorsAt = std::function<std::vector<std::uint32_t>(PointId)>;

/// Reads `S1=operated; F3=out; W12@X1:5=lifted`, split at `;` and each at its last `=`.
/// @errors bad_condition, unknown_object (nearest names), state_does_not_fit, two_states, ambiguous_side,
/// bad_point.
/// @param conductors_at  finds a lifted end; without it all conductors are gone through.
[[nodiscard]] Result<Condition> parse_condition(std::string_view text, const Netlist& netlist,
                                                const ConductorsAt& conductors_at = {});

/// Looks a written point name up. A bare strip name gives its `.int` point and `Side::either`.
struct FoundPoint {
  PointId point = PointId::none;
  Side side = Side::single;
};
/// @errors bad_point if no such point (with the nearest names), ambiguous_side for a bare separable terminal
/// (names
///         both sides), side_on_single_point.
[[nodiscard]] Result<FoundPoint> find_point(std::string_view text, const Netlist& netlist);

}  // namespace ringtrue
