#include "element_words.hpp"

#include <algorithm>
#include <vector>

#include "ringtrue/report/words.hpp"

namespace ringtrue {

namespace {

std::string_view part_noun(PartKind kind) {
  switch (kind) {
    case PartKind::terminal:
    case PartKind::pe_terminal:
      return "terminal";
    case PartKind::disconnect:
      return "disconnect terminal";
    case PartKind::plug:
      return "plug contact";
    case PartKind::contact_no:
    case PartKind::contact_nc:
      return "contact";
    default:
      return word(kind);
  }
}

struct Noun {
  std::string_view kind;  ///< takes an `s` for several; empty where the name says it all
  std::string name;
};

Noun noun_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  const Netlist& netlist = graph.netlist();
  switch (origin.from) {
    case ElementOrigin::From::conductor:
      return {word(netlist.conductors[origin.row].kind), graph.element_name(element)};
    case ElementOrigin::From::part:
      return {part_noun(netlist.parts[origin.row].kind), graph.element_name(element)};
    case ElementOrigin::From::implied_terminal:
      return {"terminal", graph.element_name(element)};
    case ElementOrigin::From::pe_rail:
      return {"PE joint", std::string(netlist.parts[origin.row].part)};
    case ElementOrigin::From::channel:
      break;
  }
  return {"", graph.element_name(element)};
}

}  // namespace

std::string element_noun(ElementId element, const ConductionGraph& graph) {
  const Noun noun = noun_of(element, graph);
  return noun.kind.empty() ? noun.name : std::string(noun.kind) + " " + noun.name;
}

std::string panel_label(const PanelInfo& panel) {
  std::string label = panel.name.empty() ? "Panel without a name" : "Panel " + panel.name;
  if (!panel.revision.empty()) label += ", revision " + panel.revision;
  return label;
}

namespace report {

std::optional<RowSource> row_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  const Netlist& netlist = graph.netlist();
  switch (origin.from) {
    case ElementOrigin::From::conductor:
      return netlist.conductors[origin.row].source;
    case ElementOrigin::From::part:
    case ElementOrigin::From::pe_rail:
      return netlist.parts[origin.row].source;
    case ElementOrigin::From::channel:
      return netlist.channels[origin.row].source;
    case ElementOrigin::From::implied_terminal:
      break;
  }
  return std::nullopt;
}

std::string row_place(ElementId element, const ConductionGraph& graph) {
  const auto row = row_of(element, graph);
  if (!row || row->file >= graph.netlist().files.size()) return {};
  std::string place = graph.netlist().files[row->file];
  if (row->line != 0) place.append(":").append(std::to_string(row->line));
  return place;
}

const Part* part_of(ElementId element, const ConductionGraph& graph) {
  const ElementOrigin origin = graph.origin(element);
  const bool has_part =
      origin.from == ElementOrigin::From::part || origin.from == ElementOrigin::From::pe_rail;
  return has_part ? &graph.netlist().parts[origin.row] : nullptr;
}

std::string in_sheets(std::initializer_list<ElementId> elements, const ConductionGraph& graph) {
  std::vector<std::string_view> sheets;
  for (const ElementId element : elements) {
    const std::string_view sheet = graph.element_sheet(element);
    if (!sheet.empty() && std::find(sheets.begin(), sheets.end(), sheet) == sheets.end())
      sheets.push_back(sheet);
  }
  if (sheets.empty()) return {};
  std::string text = sheets.size() == 1 ? " (sheet " : " (sheets ";
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    if (i != 0) text += ", ";
    text += sheets[i];
  }
  return text + ")";
}

std::optional<ElementId> changeover_partner(ElementId element, const ConductionGraph& graph) {
  const Part* own = part_of(element, graph);
  if (own == nullptr || graph.kind(element) != ElementKind::contact) return std::nullopt;
  for (const std::uint32_t row : graph.netlist().parts_named(own->part)) {
    const Part& other = graph.netlist().parts[row];
    const bool is_contact = other.kind == PartKind::contact_no || other.kind == PartKind::contact_nc;
    const bool shares_pin = other.a == own->a || other.a == own->b || other.b == own->a || other.b == own->b;
    if (is_contact && other.kind != own->kind && shares_pin) return graph.element_of_part(row);
  }
  return std::nullopt;
}

}  // namespace report

bool is_absent_field(ElementId element, const ConductionGraph& graph) {
  // A conductor is only ever off at rest because one of its ends is on a field device.
  if (graph.is_conductor(element)) return !graph.is_on_at_rest(element);
  const Part* part = report::part_of(element, graph);
  return part != nullptr && part->place == PartPlace::field;
}

std::string list_of(std::span<const ElementId> elements, const ConductionGraph& graph, std::size_t limit) {
  struct Group {
    std::string_view kind;
    std::string names;
    std::size_t count = 0;
  };
  std::vector<Group> groups;
  // One more than the limit is listed rather than announced.
  const std::size_t shown = elements.size() <= limit + 1 ? elements.size() : limit;
  for (const ElementId element : elements.first(shown)) {
    const Noun noun = noun_of(element, graph);
    auto group =
        std::find_if(groups.begin(), groups.end(), [&](const Group& g) { return g.kind == noun.kind; });
    if (group == groups.end()) group = groups.insert(groups.end(), {noun.kind, "", 0});
    if (group->count++ != 0) group->names += ", ";
    group->names += noun.name;
  }
  std::string text;
  for (const Group& group : groups) {
    if (!text.empty()) text += "; ";
    text.append(group.kind)
        .append(group.count == 1 || group.kind.empty() || group.kind.ends_with('s') ? "" : "s")
        .append(group.kind.empty() ? "" : " ");
    text += group.names;
  }
  if (shown < elements.size()) text += " and " + std::to_string(elements.size() - shown) + " more";
  return text;
}

}  // namespace ringtrue
