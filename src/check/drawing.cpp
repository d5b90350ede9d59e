#include "drawing.hpp"

#include <algorithm>

#include "ringtrue/base/classes.hpp"

namespace ringtrue::check {

std::vector<std::uint32_t> joined_by(const ConductionGraph& graph, const std::vector<bool>& is_in) {
  Classes joined(graph.point_count());
  for (std::uint32_t e = 0; e < graph.element_count(); ++e)
    if (is_in[e]) joined.join(index(graph.end_a(ElementId{e})), index(graph.end_b(ElementId{e})));
  std::vector<std::uint32_t> labels(graph.point_count());
  for (std::uint32_t i = 0; i < labels.size(); ++i) labels[i] = joined.of(i);
  return labels;
}

namespace {

/// Whether a row of parts only carries the wire on: a terminal, whatever its make.
bool is_terminal(PartKind kind) {
  return kind == PartKind::terminal || kind == PartKind::disconnect || kind == PartKind::plug ||
         kind == PartKind::pe_terminal;
}

}  // namespace

Drawing::Drawing(const ConductionGraph& checked, const CheckOptions& chosen)
    : graph(checked), netlist(checked.netlist()), options(chosen) {
  label_nets();
  find_potentials();
}

void Drawing::label_nets() {
  std::vector<bool> carries(graph.element_count(), false);
  is_copper.resize(graph.element_count(), false);
  for (std::uint32_t e = 0; e < graph.element_count(); ++e) {
    const ElementOrigin origin = graph.origin(ElementId{e});
    using enum ElementOrigin::From;
    const bool is_part = origin.from == part;
    const PartKind kind = is_part ? netlist.parts[origin.row].kind : PartKind::terminal;
    carries[e] = origin.from == conductor ? !netlist.conductors[origin.row].is_spare()
                 : is_part                ? is_terminal(kind)
                                          : origin.from != channel;
    is_copper[e] = carries[e] || (is_part && kind == PartKind::path);
  }
  wire_net = joined_by(graph, carries);
  copper_net = joined_by(graph, is_copper);
}

void Drawing::find_potentials() {
  potential_at_rest_.resize(graph.net_count(), k_none);
  has_pe_.resize(graph.point_count(), false);
  has_other_.resize(graph.point_count(), false);
  for (std::uint32_t i = 0; i < netlist.potentials.size(); ++i) {
    const Potential& potential = netlist.potentials[i];
    std::uint32_t& at_rest = potential_at_rest_[index(graph.net_at_rest(potential.point))];
    const bool is_same = at_rest < k_several && netlist.potentials[at_rest].name == potential.name;
    if (!is_same) at_rest = at_rest == k_none ? i : k_several;
    potential_by_name_.try_emplace(potential.name, i);
    (potential.kind == PotentialKind::pe ? has_pe_ : has_other_)[copper(potential.point)] = true;
    has_pe_at_all_ |= potential.kind == PotentialKind::pe;
  }
  const auto rail = points().find_place("PE");
  if (!rail || points().has_sides(*rail)) return;
  has_pe_[copper(points().point(*rail, Side::single))] = true;
  has_pe_at_all_ = true;
}

std::size_t Drawing::conductors_at(PointId p) const {
  const auto at = graph.elements_at(p);
  return static_cast<std::size_t>(
      std::count_if(at.begin(), at.end(), [&](ElementId e) { return graph.is_conductor(e); }));
}

std::optional<std::size_t> Drawing::potential_at_rest(PointId p) const {
  const std::uint32_t found = potential_at_rest_[index(graph.net_at_rest(p))];
  if (found == k_none || found == k_several) return std::nullopt;
  return found;
}

bool Drawing::is_on_pe(PointId p) const { return has_pe_[copper(p)] && !has_other_[copper(p)]; }

std::optional<std::size_t> Drawing::stated_potential(std::uint32_t conductor) const {
  const auto found = potential_by_name_.find(text(ConductorText::potential, conductor));
  if (found == potential_by_name_.end()) return std::nullopt;
  return found->second;
}

ProblemRow Drawing::conductor_row(std::uint32_t conductor) const {
  const Conductor& c = netlist.conductors[conductor];
  std::string what =
      std::string(word(c.kind)) + " " + netlist.conductor_name(conductor) + ", " + name(c.from);
  what += c.is_spare() ? ", spare" : " to " + name(c.to);
  return {c.source, std::move(what), text(ConductorText::sheet, conductor)};
}

ProblemRow Drawing::part_row(std::uint32_t part) const {
  const Part& row = netlist.parts[part];
  return {row.source, std::string(word(row.kind)) + " " + graph.element_name(graph.element_of_part(part)),
          row.sheet};
}

ProblemRow Drawing::channel_row(std::size_t channel) const {
  return {netlist.channels[channel].source, "channel " + channel_name(channel), {}};
}

ProblemRow Drawing::potential_row(std::size_t potential) const {
  const Potential& row = netlist.potentials[potential];
  return {row.source, "potential " + std::string(row.name) + " at " + name(row.point), {}};
}

std::optional<ProblemRow> Drawing::element_row(ElementId element) const {
  const ElementOrigin origin = graph.origin(element);
  using enum ElementOrigin::From;
  if (origin.from == conductor) return conductor_row(origin.row);
  if (origin.from == part) return part_row(origin.row);
  return std::nullopt;
}

std::string Drawing::channel_name(std::size_t channel) const {
  const Channel& c = netlist.channels[channel];
  std::string text;
  for (const std::string_view part : {c.address, c.tag})
    if (!part.empty()) text.append(part).append(" ");
  return text.empty() ? name(c.point) : text + "at " + name(c.point);
}

std::string counted(std::size_t number, std::string_view noun) {
  return std::to_string(number) + " " + std::string(noun) + (number == 1 ? "" : "s");
}

}  // namespace ringtrue::check
