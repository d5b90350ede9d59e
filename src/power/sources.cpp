#include "sources.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "power_state.hpp"

namespace ringtrue::power {

namespace {

std::string_view source_part(const Netlist& netlist, PointId point) {
  const std::string_view part = part_of_place(netlist.points.place_name(netlist.points.place(point)));
  const auto rows = netlist.parts_named(part);
  const bool is_source = std::any_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
    const PartKind kind = netlist.parts[row].kind;
    return kind == PartKind::supply || kind == PartKind::transformer || kind == PartKind::input;
  });
  return is_source ? part : std::string_view{};
}

bool is_reference(PotentialKind kind) {
  return kind == PotentialKind::dc_minus || kind == PotentialKind::ac_neutral;
}
bool is_alternating(PotentialKind kind) {
  return kind == PotentialKind::ac_line || kind == PotentialKind::ac_neutral;
}

class Finder {
 public:
  Finder(const ConductionGraph& graph, const std::vector<std::uint32_t>& whole)
      : graph_(graph),
        netlist_(graph.netlist()),
        whole_(whole),
        opened_(nets_of(graph, conduction(graph, {})).of) {}

  [[nodiscard]] Sources find() {
    for (std::uint32_t i = 0; i < netlist_.potentials.size(); ++i)
      if (!is_behind_another(i)) add(i);
    make_systems();
    return std::move(found_);
  }

 private:
  /// The same copper, with everything closed, holds the source itself, or one declared earlier.
  [[nodiscard]] bool is_behind_another(std::uint32_t i) const {
    const Potential& own = netlist_.potentials[i];
    if (!source_part(netlist_, own.point).empty()) return false;
    for (std::uint32_t j = 0; j < netlist_.potentials.size(); ++j) {
      const Potential& other = netlist_.potentials[j];
      if (j == i || other.kind != own.kind || whole_[index(other.point)] != whole_[index(own.point)])
        continue;
      if (!source_part(netlist_, other.point).empty()) return true;
      const bool is_own_incomer =
          comes_from_outside(own.point) && opened_[index(own.point)] != opened_[index(other.point)];
      if (j < i && !is_own_incomer) return true;
    }
    return false;
  }

  /// Nothing is drawn on the far side of its terminal, or of its pin of a device that switches.
  [[nodiscard]] bool comes_from_outside(PointId point) const {
    const PlaceId place = netlist_.points.place(point);
    const auto rows = netlist_.parts_named(part_of_place(netlist_.points.place_name(place)));
    const bool switches = std::any_of(rows.begin(), rows.end(), [&](std::uint32_t row) {
      const PartKind kind = netlist_.parts[row].kind;
      return kind == PartKind::isolator || kind == PartKind::breaker;
    });
    const auto is_end = [&](PointId p) { return graph_.elements_at(p).size() <= 1; };
    if (!netlist_.points.has_sides(place)) return switches && is_end(point);
    return is_end(point) || is_end(netlist_.points.other_side(point));
  }

  void add(std::uint32_t i) {
    const Potential& potential = netlist_.potentials[i];
    Origin origin;
    origin.potential = i;
    origin.point = potential.point;
    origin.alternating = is_alternating(potential.kind);
    origin.volts = potential.volts_to_reference();
    feed(origin, potential.kind);
    found_.origins.push_back(std::move(origin));
  }

  void feed(Origin& origin, PotentialKind kind) const {
    const std::string_view part = source_part(netlist_, origin.point);
    if (part.empty()) {
      origin.fed = kind == PotentialKind::dc_plus ? Fed::always : Fed::outside;
      return;
    }
    bool leads_on = false;
    for (const std::uint32_t row : netlist_.parts_named(part)) {
      const Part& drawn = netlist_.parts[row];
      const bool is_own = drawn.a == origin.point || drawn.b == origin.point || is_secondary(drawn);
      if (drawn.kind != PartKind::input && (drawn.kind != PartKind::transformer || is_own)) continue;
      origin.inputs.push_back(graph_.element_of_part(row));
      for (const PointId end : {drawn.a, drawn.b}) leads_on |= graph_.elements_at(end).size() > 1;
    }
    origin.fed = origin.inputs.empty() ? Fed::always : leads_on ? Fed::inputs : Fed::outside;
  }

  /// A winding at which a potential originates gives, and takes nothing.
  [[nodiscard]] bool is_secondary(const Part& winding) const {
    return std::any_of(netlist_.potentials.begin(), netlist_.potentials.end(),
                       [&](const Potential& p) { return p.point == winding.a || p.point == winding.b; });
  }

  void make_systems() {
    std::vector<bool> is_paired(found_.origins.size(), false);
    for (std::size_t i = 0; i < found_.origins.size(); ++i) {
      const std::string_view part = source_part(netlist_, found_.origins[i].point);
      if (is_paired[i] || part.empty() || kind(i) == PotentialKind::pe) continue;
      const std::uint32_t system = new_system();
      for (std::size_t j = i; j < found_.origins.size(); ++j)
        if (kind(j) != PotentialKind::pe && source_part(netlist_, found_.origins[j].point) == part) {
          is_paired[j] = true;
          found_.origins[j].system = system;
        }
    }
    pair_the_rest(is_paired, PotentialKind::ac_line, PotentialKind::ac_neutral);
    pair_the_rest(is_paired, PotentialKind::dc_plus, PotentialKind::dc_minus);
    for (std::size_t i = 0; i < found_.origins.size(); ++i)
      if (!is_paired[i]) found_.origins[i].system = new_system();
    for (std::uint32_t s = 0; s < found_.systems.size(); ++s) describe(s);
  }

  /// Those that no part tells together belong together if there is a single reference for them.
  void pair_the_rest(std::vector<bool>& is_paired, PotentialKind live, PotentialKind reference) {
    std::vector<std::size_t> all;
    std::size_t references = 0;
    for (std::size_t i = 0; i < found_.origins.size(); ++i) {
      if (is_paired[i] || (kind(i) != live && kind(i) != reference)) continue;
      all.push_back(i);
      references += kind(i) == reference ? 1u : 0u;
    }
    if (references != 1) return;
    const std::uint32_t system = new_system();
    for (const std::size_t i : all) {
      is_paired[i] = true;
      found_.origins[i].system = system;
    }
  }

  /// Its reference; voltages are counted from it.
  void describe(std::uint32_t system) {
    std::vector<std::size_t> lines, references;
    for (std::size_t i = 0; i < found_.origins.size(); ++i) {
      if (found_.origins[i].system != system) continue;
      if (kind(i) == PotentialKind::ac_line) lines.push_back(i);
      if (is_reference(kind(i)) || kind(i) == PotentialKind::pe) references.push_back(i);
    }
    if (references.size() != 1) return;
    found_.systems[system].reference = found_.origins[references[0]].point;
    found_.systems[system].three_phase =
        lines.size() == 3 && std::all_of(lines.begin(), lines.end(), [&](std::size_t i) {
          return found_.origins[i].volts == found_.origins[lines[0]].volts;
        });
  }

  std::uint32_t new_system() {
    found_.systems.emplace_back();
    return static_cast<std::uint32_t>(found_.systems.size() - 1);
  }
  [[nodiscard]] PotentialKind kind(std::size_t origin) const {
    return netlist_.potentials[found_.origins[origin].potential].kind;
  }

  const ConductionGraph& graph_;
  const Netlist& netlist_;
  const std::vector<std::uint32_t>& whole_;
  std::vector<std::uint32_t> opened_;  ///< the same with every protective device open
  Sources found_;
};

}  // namespace

bool Sources::are_alike(std::size_t a, std::size_t b) const {
  if (a == b) return true;
  const Origin& one = origins[a];
  const Origin& other = origins[b];
  return one.system == other.system && one.volts == other.volts && (!one.alternating || one.volts == 0);
}

Sources find_sources(const ConductionGraph& graph, const std::vector<std::uint32_t>& whole) {
  return Finder(graph, whole).find();
}

}  // namespace ringtrue::power
