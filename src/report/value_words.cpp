#include "value_words.hpp"

#include <charconv>
#include <cmath>

#include "element_words.hpp"

namespace ringtrue::report {

namespace {

/// Three digits, never with an exponent.
std::string digits(double value) {
  if (value >= 1000) return std::to_string(std::lround(value));
  char buffer[32];
  const auto written = std::to_chars(buffer, buffer + sizeof buffer, value, std::chars_format::general, 3);
  return {buffer, written.ptr};
}

/// `14 m of 0.75 mm²`; empty where the drawing doesn't say how long it is.
std::string length_and_size(std::uint32_t conductor, const Netlist& net) {
  const auto text = [&](ConductorText field) {
    return std::string(net.conductor_text.get(field, conductor));
  };
  const std::string length = text(ConductorText::length_m);
  if (length.empty()) return {};
  if (const std::string mm2 = text(ConductorText::mm2); !mm2.empty()) return length + " m of " + mm2 + " mm²";
  if (const std::string awg = text(ConductorText::awg); !awg.empty()) return length + " m of " + awg + " AWG";
  return length + " m of no stated size";
}

/// What the drawing says of a part's resistance.
std::string stated_ohms(const Part& part) {
  if (std::isnan(part.ohms)) {
    const bool has_own =
        part.kind == PartKind::coil || part.kind == PartKind::resistor || part.kind == PartKind::lamp;
    return has_own ? "ohms not drawn" : "";
  }
  if (part.kind == PartKind::lamp) return ohms_text(Ohms{part.ohms}) + " hot, less when cold";
  const double tolerance = std::isnan(part.tolerance_pct) ? 10 : part.tolerance_pct;
  return ohms_text(Ohms{part.ohms}) + " ± " + digits(tolerance) + " %";
}

}  // namespace

std::string ohms_text(Ohms ohms) {
  const double value = ohms.value;
  // From where three digits would round up to the next unit.
  if (value >= 999.5e9) return "over 999 GΩ";
  if (value >= 999.5e6) return digits(value / 1e9) + " GΩ";
  if (value >= 999.5e3) return digits(value / 1e6) + " MΩ";
  if (value >= 999.5) return digits(value / 1000) + " kΩ";
  if (value > 0 && value < 1e-4) return "under 0.0001 Ω";
  return digits(value) + " Ω";
}

std::string value_words(ElementId element, OhmInterval ohms, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  if (ohms.hi == Ohms{0}) return "0 Ω";
  if (graph.is_diode(element)) return "conducts from anode to cathode only";
  std::string stated;
  if (origin.from == ElementOrigin::From::conductor) stated = length_and_size(origin.row, graph.netlist());
  if (const Part* part = part_of(element, graph); part != nullptr) stated = stated_ohms(*part);
  return (stated.empty() ? "" : stated + ": ") + range_text(ohms);
}

}  // namespace ringtrue::report

namespace ringtrue {

std::string range_text(OhmInterval ohms) {
  if (ohms.is_open()) return "open";
  if (ohms.hi == Ohms{0}) return "0 Ω";
  if (ohms.hi == k_infinite_ohms)
    return ohms.lo == Ohms{0} ? "any resistance" : report::ohms_text(ohms.lo) + " or more";
  if (ohms.lo == Ohms{0}) return "up to " + report::ohms_text(ohms.hi);
  std::string lo = report::ohms_text(ohms.lo);
  const std::string hi = report::ohms_text(ohms.hi);
  if (lo == hi) return lo;
  // One unit for both: `38.4 to 576 Ω`.
  const std::size_t blank = lo.find(' ');
  const bool same_unit = lo.substr(blank) == hi.substr(hi.find(' '));
  return (same_unit ? lo.substr(0, blank) : lo) + " to " + hi;
}

}  // namespace ringtrue
