// What single rows say, and what rows say of each other, without the nets.
#include <algorithm>
#include <map>
#include <tuple>

#include "rules.hpp"

namespace ringtrue::check {

void listed_twice(const Drawing& drawing, Found& found) {
  for (const RepeatedConductor& repeated : drawing.netlist.repeated_conductors) {
    ProblemRow first = drawing.conductor_row(repeated.conductor);
    ProblemRow again = first;
    again.source = repeated.source;
    // The sheet of the row that was dropped is not kept.
    again.sheet = {};
    found.add("Listed twice, counted once: " + first.what + ".", {again, first});
  }
}

void both_ends_the_same(const Drawing& drawing, Found& found) {
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    if (c.from == c.to)
      found.add("Both ends are on " + drawing.name(c.from) + ".", {drawing.conductor_row(i)});
  }
}

void core_used_twice(const Drawing& drawing, Found& found) {
  // Both ends of a shield may be landed, a row each.
  constexpr std::string_view k_shield = "SH";
  const auto key = [&](std::uint32_t i) {
    return std::pair(drawing.text(ConductorText::cable, i), drawing.text(ConductorText::core, i));
  };
  std::vector<std::uint32_t> cores;
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i)
    if (const auto [cable, core] = key(i); !cable.empty() && !core.empty() && core != k_shield)
      cores.push_back(i);
  std::sort(cores.begin(), cores.end(),
            [&](std::uint32_t a, std::uint32_t b) { return std::tuple(key(a), a) < std::tuple(key(b), b); });
  for (std::size_t first = 0, last = 0; first < cores.size(); first = last) {
    std::vector<ProblemRow> rows;
    for (last = first; last < cores.size() && key(cores[last]) == key(cores[first]); ++last)
      rows.push_back(drawing.conductor_row(cores[last]));
    const auto [cable, core] = key(cores[first]);
    if (rows.size() > 1)
      found.add("Core " + std::string(core) + " of cable " + std::string(cable) + " is used " +
                    (rows.size() == 2 ? "twice" : std::to_string(rows.size()) + " times") + ".",
                std::move(rows));
  }
}

void part_listed_twice(const Drawing& drawing, Found& found) {
  const std::vector<Part>& parts = drawing.netlist.parts;
  std::map<std::tuple<std::string_view, PartKind, PointId, PointId>, std::uint32_t> first;
  for (std::uint32_t i = 0; i < parts.size(); ++i) {
    const auto [at, is_new] = first.try_emplace({parts[i].part, parts[i].kind, parts[i].a, parts[i].b}, i);
    if (is_new) continue;
    ProblemRow again = drawing.part_row(i);
    found.add("Listed twice, and counted as two side by side: " + again.what + ".",
              {again, drawing.part_row(at->second)});
  }
}

void missing_sheet(const Drawing& drawing, Found& found) {
  const Netlist& netlist = drawing.netlist;
  if (!netlist.conductor_text.is_empty(ConductorText::sheet))
    for (std::uint32_t i = 0; i < netlist.conductors.size(); ++i)
      if (drawing.text(ConductorText::sheet, i).empty())
        found.add("The row has no sheet.", {drawing.conductor_row(i)});
  const auto has_sheet = [](const Part& part) { return !part.sheet.empty(); };
  if (std::any_of(netlist.parts.begin(), netlist.parts.end(), has_sheet))
    for (std::uint32_t i = 0; i < netlist.parts.size(); ++i)
      if (!has_sheet(netlist.parts[i])) found.add("The row has no sheet.", {drawing.part_row(i)});
}

namespace {

ProblemRow panel_row(const Netlist& netlist) {
  const auto is_panel = [](const std::string& file) { return file.ends_with("panel.csv"); };
  const auto file = std::find_if(netlist.files.begin(), netlist.files.end(), is_panel);
  const auto place = file == netlist.files.end() ? 0 : file - netlist.files.begin();
  return {{0, static_cast<std::uint16_t>(place)}, "the drawing as a whole", {}};
}

std::vector<ProblemRow> rows_with_role(const Drawing& drawing) {
  const Netlist& netlist = drawing.netlist;
  std::vector<ProblemRow> rows;
  for (std::uint32_t i = 0; i < netlist.conductors.size(); ++i)
    if (netlist.conductors[i].role != Role::none) rows.push_back(drawing.conductor_row(i));
  for (std::uint32_t i = 0; i < netlist.parts.size(); ++i)
    if (netlist.parts[i].role != Role::none) rows.push_back(drawing.part_row(i));
  for (std::size_t i = 0; i < netlist.channels.size(); ++i)
    if (netlist.channels[i].role != Role::none) rows.push_back(drawing.channel_row(i));
  return rows;
}

}  // namespace

void safety_not_stated(const Drawing& drawing, Found& found) {
  const Netlist& netlist = drawing.netlist;
  // A wire list alone has no place to state it.
  const bool is_wire_list = netlist.parts.empty() && netlist.channels.empty();
  if (is_wire_list || netlist.panel.safety != Safety::not_stated) return;
  found.add(
      "It is not stated whether the rows of safety circuits are marked (panel: safety = marked or none).",
      {panel_row(netlist)});
}

void safety_against_roles(const Drawing& drawing, Found& found) {
  const Safety stated = drawing.netlist.panel.safety;
  if (stated == Safety::not_stated) return;
  std::vector<ProblemRow> rows = rows_with_role(drawing);
  if (stated == Safety::none && !rows.empty())
    found.add("The panel is said to have no safety circuits, and " + counted(rows.size(), "row") +
                  (rows.size() == 1 ? " has a role." : " have a role."),
              std::move(rows));
  else if (stated == Safety::marked && rows.empty())
    found.add("The safety circuits are said to be marked, and no row has a role.",
              {panel_row(drawing.netlist)});
}

}  // namespace ringtrue::check
