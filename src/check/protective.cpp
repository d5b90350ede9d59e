// The protective conductor: only copper that nothing opens counts, field cables included.
#include <algorithm>

#include "colour_code.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

bool is_green_yellow(const Drawing& drawing, std::uint32_t conductor) {
  return colour_code(drawing.text(ConductorText::colour, conductor)) == "GNYE";
}

bool is_shield(const Drawing& drawing, std::uint32_t conductor) {
  return drawing.text(ConductorText::core, conductor) == "SH";
}

bool has_pe_pin(const Drawing& drawing, const Conductor& c) {
  const auto is_pe = [&](PointId p) { return pin_of_place(drawing.place(p)) == "PE"; };
  return is_pe(c.from) || is_pe(c.to);
}

/// The conductor's row names a protective conductor (true), another potential (false), or none.
std::optional<bool> is_stated_pe(const Drawing& drawing, std::uint32_t conductor) {
  const auto stated = drawing.stated_potential(conductor);
  if (!stated) return std::nullopt;
  return drawing.netlist.potentials[*stated].kind == PotentialKind::pe;
}

/// The net at rest carries another potential than PE, or the row says so.
bool carries_other(const Drawing& drawing, std::uint32_t conductor) {
  const auto at_rest = drawing.potential_at_rest(drawing.netlist.conductors[conductor].from);
  if (at_rest) return drawing.netlist.potentials[*at_rest].kind != PotentialKind::pe;
  return is_stated_pe(drawing, conductor) == false;
}

bool is_protective(const Drawing& drawing, std::uint32_t conductor) {
  const Conductor& c = drawing.netlist.conductors[conductor];
  return !c.is_spare() && !is_shield(drawing, conductor) &&
         (drawing.is_on_pe(c.from) || is_stated_pe(drawing, conductor) == true);
}

}  // namespace

void pe_not_continuous(const Drawing& drawing, Found& found) {
  if (!drawing.has_pe()) return;
  Groups apart;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    if (c.is_spare() || drawing.leads_to_pe(c.from)) continue;
    const bool is_meant = is_stated_pe(drawing, i) == true || has_pe_pin(drawing, c) ||
                          (is_green_yellow(drawing, i) && !carries_other(drawing, i));
    if (is_meant) apart.emplace_back(drawing.copper(c.from), i);
  }
  std::sort(apart.begin(), apart.end());
  for_each_group(apart, [&](auto first, auto last) {
    std::vector<ProblemRow> rows;
    for (auto at = first; at != last; ++at) rows.push_back(drawing.conductor_row(at->second));
    found.add("No unbroken copper leads from " +
                  drawing.name(drawing.netlist.conductors[first->second].from) + " to PE.",
              std::move(rows));
  });
}

void pe_not_green_yellow(const Drawing& drawing, Found& found) {
  const bool may_be_green = drawing.options.colours == ColourProfile::nfpa_79;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    if (!is_protective(drawing, i)) continue;
    const std::string code = colour_code(drawing.text(ConductorText::colour, i));
    if (code.empty() || code == "GNYE" || (may_be_green && code == "GN")) continue;
    found.add("The protective conductor is " + code + ".", {drawing.conductor_row(i)});
  }
}

void green_yellow_not_pe(const Drawing& drawing, Found& found) {
  std::vector<bool> has_channel(drawing.points().size(), false);
  for (const Channel& c : drawing.netlist.channels) has_channel[drawing.copper(c.point)] = true;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    if (c.is_spare() || !is_green_yellow(drawing, i) || drawing.is_on_pe(c.from)) continue;
    if (carries_other(drawing, i))
      found.add("The conductor is GNYE and carries another potential than PE.", {drawing.conductor_row(i)});
    else if (has_channel[drawing.copper(c.from)])
      found.add("The conductor is GNYE and carries the signal of a channel.", {drawing.conductor_row(i)});
  }
}

void protective_conductors_per_terminal(const Drawing& drawing, Found& found) {
  for (const Part& part : drawing.netlist.parts) {
    if (part.kind != PartKind::pe_terminal) continue;
    for (const PointId side : {part.a, part.b}) {
      std::vector<ProblemRow> rows;
      for (const ElementId e : drawing.graph.elements_at(side)) {
        if (!drawing.graph.is_conductor(e)) continue;
        const std::uint32_t conductor = drawing.graph.origin(e).row;
        if (is_protective(drawing, conductor)) rows.push_back(drawing.conductor_row(conductor));
      }
      if (rows.size() > 1)
        found.add(drawing.name(side) + " holds " + counted(rows.size(), "protective conductor") + ".",
                  std::move(rows));
    }
  }
}

}  // namespace ringtrue::check
