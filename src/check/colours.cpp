// The colours of wires against the potential that they carry. Whether a circuit is power or control a netlist
// doesn't say, so each potential allows the colours of both, and those of circuits that stay live with the
// main switch off.
#include <algorithm>

#include "colour_code.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

using Colours = std::vector<std::string_view>;

/// Source: extracts of IEC 60204-1, 13.2.2 to 13.2.4, and notes on it; quotations of NFPA 79 (black power,
/// blue and red control, orange or yellow for what the main switch leaves live; grounded conductors in
/// white).
const Colours& allowed(ColourProfile profile, PotentialKind kind) {
  static const Colours none, iec_dc{"BU", "BK", "OG"}, iec_line{"BK", "RD", "OG"}, iec_neutral{"BU"};
  static const Colours nfpa_dc{"BU", "BK", "OG", "YE"}, nfpa_minus{"BU", "BUWH", "BK", "OG", "YE"};
  static const Colours nfpa_line{"BK", "RD", "OG", "YE"}, nfpa_neutral{"WH", "GY"};
  const bool is_iec = profile == ColourProfile::iec_60204_1;
  switch (kind) {
    case PotentialKind::dc_plus:
      return is_iec ? iec_dc : nfpa_dc;
    case PotentialKind::dc_minus:
      return is_iec ? iec_dc : nfpa_minus;
    case PotentialKind::ac_line:
      return is_iec ? iec_line : nfpa_line;
    case PotentialKind::ac_neutral:
      return is_iec ? iec_neutral : nfpa_neutral;
    case PotentialKind::pe:
      return none;  // pe-not-green-yellow has it
  }
  return none;
}

std::string any_of(const Colours& colours) {
  std::string text;
  for (std::size_t i = 0; i < colours.size(); ++i)
    text.append(i == 0 ? "" : i + 1 == colours.size() ? " or " : ", ").append(colours[i]);
  return text;
}

}  // namespace

void colour_against_circuit(const Drawing& drawing, Found& found) {
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    // The standard excepts the cores of cables.
    if (c.kind != ConductorKind::wire) continue;
    const std::string code = colour_code(drawing.text(ConductorText::colour, i));
    const auto at_rest = drawing.potential_at_rest(c.from);
    const auto potential = at_rest ? at_rest : drawing.stated_potential(i);
    if (code.empty() || code == "GNYE" || !potential) continue;
    const Potential& carried = drawing.netlist.potentials[*potential];
    const Colours& right = allowed(drawing.options.colours, carried.kind);
    if (right.empty() || std::find(right.begin(), right.end(), code) != right.end()) continue;
    found.add("The wire is " + code + " and carries " + std::string(carried.name) + ": " +
                  std::string(word(drawing.options.colours)) + " has " + any_of(right) + " for it.",
              {drawing.conductor_row(i)});
  }
}

}  // namespace ringtrue::check
