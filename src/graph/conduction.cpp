#include "conduction.hpp"

#include <algorithm>
#include <cmath>

namespace ringtrue {

ElementKind element_kind_of(const Part& part) {
  switch (part.kind) {
    case PartKind::terminal:
    case PartKind::pe_terminal:
      return ElementKind::body;
    case PartKind::path:
      return ElementKind::joint;
    case PartKind::disconnect:
    case PartKind::plug:
    case PartKind::fuse:
    case PartKind::breaker:
    case PartKind::isolator:
      return ElementKind::breakable;
    case PartKind::contact_no:
    case PartKind::contact_nc:
      return ElementKind::contact;
    default:
      return ElementKind::load;
  }
}

namespace {

/// The position in which a selector stands at rest: 0, or the lowest where no contact of it names 0.
int rest_position(std::string_view selector, const Netlist& netlist) {
  std::vector<int> positions;
  for (const Part& part : netlist.parts)
    if (part.actuated_by == selector)
      positions.insert(positions.end(), part.closed_in.begin(), part.closed_in.end());
  const bool has_zero = std::find(positions.begin(), positions.end(), 0) != positions.end();
  return has_zero || positions.empty() ? 0 : *std::min_element(positions.begin(), positions.end());
}

}  // namespace

bool conducts_in_position(const Part& part, int position) {
  return std::find(part.closed_in.begin(), part.closed_in.end(), position) != part.closed_in.end();
}

bool conducts_at_rest(const Part& part, const Netlist& netlist) {
  if (part.place == PartPlace::field) return false;
  if (!part.closed_in.empty()) return conducts_in_position(part, rest_position(part.actuated_by, netlist));
  return part.kind != PartKind::contact_no;
}

OhmInterval part_interval(const Part& part) {
  const bool given = !std::isnan(part.ohms);
  const double tolerance = (std::isnan(part.tolerance_pct) ? 10.0 : part.tolerance_pct) / 100;
  const OhmInterval stated{Ohms{std::max(0.0, part.ohms * (1 - tolerance))},
                           Ohms{part.ohms * (1 + tolerance)}};
  switch (part.kind) {
    case PartKind::coil:
    case PartKind::resistor:
      return given ? stated : OhmInterval{Ohms{1}, k_infinite_ohms};
    // `ohms` of a lamp is hot; a cold filament has about a tenth to a fifteenth of it.
    case PartKind::lamp:
      return given ? OhmInterval{Ohms{part.ohms / 15}, Ohms{part.ohms}}
                   : OhmInterval{Ohms{1}, k_infinite_ohms};
    case PartKind::supply:
    case PartKind::input:
    case PartKind::electronics:
    case PartKind::sensor:
      return given ? stated : OhmInterval{Ohms{50}, k_infinite_ohms};
    case PartKind::diode:
      return {Ohms{0}, k_infinite_ohms};
    case PartKind::transformer:
    case PartKind::motor:
    case PartKind::surge:
    case PartKind::capacitor:
      return given ? stated : OhmInterval{Ohms{0}, k_infinite_ohms};
    case PartKind::fuse:
      return given ? stated : OhmInterval{Ohms{0}, Ohms{0.5}};
    default:
      return given ? stated : k_joint_interval;
  }
}

OhmInterval channel_interval(const Channel& channel) {
  // A current input is a small burden resistor, usually 250 ohms or less.
  const bool current_input =
      channel.type == ChannelType::AI && channel.signal.find("mA") != std::string_view::npos;
  return {Ohms{current_input ? 5.0 : 50.0}, k_infinite_ohms};
}

std::string part_row_name(const Part& part, const PointTable& points) {
  if (part.strip_like) return std::string(part.part);
  const auto pin = [&](PointId p) { return std::string(pin_of_place(points.place_name(points.place(p)))); };
  // A supply's pins may be called + and -.
  const bool has_dash =
      pin(part.a).find('-') != std::string::npos || pin(part.b).find('-') != std::string::npos;
  return std::string(part.part) + ":" + pin(part.a) + (has_dash ? "/" : "-") + pin(part.b);
}

}  // namespace ringtrue
