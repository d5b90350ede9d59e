// Where conductors end.
#include <algorithm>
#include <span>
#include <unordered_map>

#include "ringtrue/base/name_table.hpp"
#include "ringtrue/graph/rows.hpp"
#include "rules.hpp"

namespace ringtrue::check {

namespace {

/// Each of its connections has a row: what stands in none doesn't exist. Of a motor, a supply or a module the
/// rows need not name every pin.
bool has_all_pins(PartKind kind) {
  switch (kind) {
    case PartKind::fuse:
    case PartKind::breaker:
    case PartKind::isolator:
    case PartKind::contact_no:
    case PartKind::contact_nc:
    case PartKind::path:
    case PartKind::coil:
    case PartKind::lamp:
    case PartKind::diode:
      return true;
    default:
      return false;
  }
}

bool is_earth_pin(std::string_view pin) { return pin == "PE" || pin == "SH"; }

/// What the drawing says of one designation.
struct Designated {
  bool is_strip = false;   ///< has strip-like rows: its terminals are all known
  bool is_closed = false;  ///< has rows, and all of them name all their pins
};

/// Which points the drawing's parts have.
class KnownPoints {
 public:
  explicit KnownPoints(const Drawing& drawing)
      : points_(drawing.points()), has_row_(drawing.points().place_count(), false) {
    const Netlist& netlist = drawing.netlist;
    for (const Part& part : netlist.parts) take(part);
    for (const Channel& c : netlist.channels) {
      for (const PointId p : {c.point, c.common}) take(p);
      designated_.try_emplace(c.device);
    }
    for (const Potential& p : netlist.potentials) take(p.point);
  }

  [[nodiscard]] bool has(PointId p) const {
    const PlaceId place = points_.place(p);
    const std::string_view name = points_.place_name(place);
    if (has_row_[index(place)] || name == "PE") return true;
    const auto known = designated_.find(part_of_place(name));
    if (known == designated_.end()) return false;
    return !known->second.is_strip && (!known->second.is_closed || is_earth_pin(pin_of_place(name)));
  }

 private:
  void take(const Part& part) {
    const std::string_view name = part.strip_like ? part_of_place(part.part) : part.part;
    const auto [at, is_new] = designated_.try_emplace(name, Designated{false, true});
    at->second.is_strip |= part.strip_like;
    at->second.is_closed &= has_all_pins(part.kind);
    for (const PointId p : {part.a, part.b}) has_row_[index(points_.place(p))] = true;
  }
  void take(PointId p) {
    if (p == PointId::none) return;
    const PlaceId place = points_.place(p);
    has_row_[index(place)] = true;
    designated_.try_emplace(part_of_place(points_.place_name(place)));
  }

  const PointTable& points_;
  std::vector<bool> has_row_;  ///< by place
  std::unordered_map<std::string_view, Designated> designated_;
};

}  // namespace

void point_on_no_part(const Drawing& drawing, Found& found) {
  if (drawing.netlist.parts.empty()) return;
  const KnownPoints known(drawing);
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    for (const PointId p : {c.from, c.to})
      if (p != PointId::none && !known.has(p))
        found.add("No part of the drawing has the point " + drawing.name(p) + ".",
                  {drawing.conductor_row(i)});
  }
}

void point_not_drawn(const Drawing& drawing, Found& found) {
  const Netlist& netlist = drawing.netlist;
  std::vector<bool> is_drawn(netlist.points.place_count(), false);
  const auto note = [&](PointId p) {
    if (p != PointId::none) is_drawn[index(netlist.points.place(p))] = true;
  };
  for (const Conductor& c : netlist.conductors) note(c.from), note(c.to);
  for (const Part& part : netlist.parts) note(part.a), note(part.b);
  const auto is_missing = [&](PointId p) {
    return p != PointId::none && !is_drawn[index(netlist.points.place(p))];
  };
  for (std::size_t i = 0; i < netlist.channels.size(); ++i)
    for (const auto& [called, p] : {std::pair("return", netlist.channels[i].return_point),
                                    std::pair("common", netlist.channels[i].common)})
      if (is_missing(p))
        found.add("The " + std::string(called) + " of the channel is " + drawing.name(p) +
                      ", and no conductor or part has that point.",
                  {drawing.channel_row(i)});
  // A wire list alone may well leave out where its voltages come from, and any drawing its earth.
  for (std::size_t i = 0; i < netlist.potentials.size() && !netlist.parts.empty(); ++i)
    if (netlist.potentials[i].kind != PotentialKind::pe && is_missing(netlist.potentials[i].point))
      found.add("The potential is said to come from " + drawing.name(netlist.potentials[i].point) +
                    ", and no conductor or part has that point.",
                {drawing.potential_row(i)});
}

namespace {

/// Points joined inside parts, each such group with what uses it. A conductor dangles where it is the only
/// thing that its group has.
class PartInsides {
 public:
  explicit PartInsides(const Drawing& drawing)
      : drawing_(drawing),
        ends_(drawing.points().size(), 0),
        is_used_(drawing.points().size(), false),
        has_row_(drawing.points().size(), false) {
    const ConductionGraph& graph = drawing.graph;
    std::vector<bool> is_inside(graph.element_count(), false);
    for (std::uint32_t e = graph.conductor_count(); e < graph.element_count(); ++e)
      is_inside[e] =
          graph.is_hard(ElementId{e}) && graph.origin(ElementId{e}).from == ElementOrigin::From::part;
    group_ = joined_by(graph, is_inside);
    count_ends();
    note_uses();
    note_drawn_sides();
  }

  [[nodiscard]] bool dangles_at(PointId p) const {
    const std::uint32_t group = group_[index(p)];
    return ends_[group] == 1 && has_row_[group] && !is_used_[group] && other_side_is_drawn(p) &&
           !drawing_.is_on_pe(p);
  }

 private:
  void count_ends() {
    for (const Conductor& c : drawing_.netlist.conductors)
      for (const PointId p : {c.from, c.to})
        if (p != PointId::none) ++ends_[group_[index(p)]];
  }

  void note_uses() {
    const auto use = [&](PointId p) {
      if (p != PointId::none) is_used_[group_[index(p)]] = true;
    };
    for (std::uint32_t i = 0; i < drawing_.netlist.parts.size(); ++i) {
      const Part& part = drawing_.netlist.parts[i];
      has_row_[group_[index(part.a)]] = has_row_[group_[index(part.b)]] = true;
      if (drawing_.graph.is_hard(drawing_.graph.element_of_part(i)) && part.kind != PartKind::pe_terminal)
        continue;
      use(part.a), use(part.b);
    }
    for (const Channel& c : drawing_.netlist.channels)
      for (const PointId p : {c.point, c.field, c.return_point, c.common}) use(p);
    for (const Potential& p : drawing_.netlist.potentials) use(p.point);
  }

  /// Many drawings leave the field cables of a strip out; then its free side says nothing.
  void note_drawn_sides() {
    strip_of_.resize(drawing_.points().size(), 0);
    for (std::uint32_t p = 0; p < strip_of_.size(); ++p)
      strip_of_[p] = strips_.intern(part_of_place(drawing_.place(PointId{p})));
    side_is_drawn_.resize(strips_.size() * 2, false);
    for (const Conductor& c : drawing_.netlist.conductors)
      for (const PointId p : {c.from, c.to})
        if (p != PointId::none) side_is_drawn_[side_of(p)] = true;
  }
  [[nodiscard]] std::size_t side_of(PointId p) const {
    return std::size_t{2} * strip_of_[index(p)] + (drawing_.points().side(p) == Side::external);
  }
  [[nodiscard]] bool other_side_is_drawn(PointId p) const {
    const PointId other = drawing_.points().other_side(p);
    return other == PointId::none || side_is_drawn_[side_of(other)];
  }

  const Drawing& drawing_;
  std::vector<std::uint32_t> group_;  ///< by point
  std::vector<std::uint32_t> ends_;   ///< by group: ends of conductors
  std::vector<bool> is_used_;         ///< by group: a load, channel, potential or the PE rail is on it
  std::vector<bool> has_row_;         ///< by group: some part has a row there
  NameTable strips_;
  std::vector<std::uint32_t> strip_of_;  ///< by point
  std::vector<bool> side_is_drawn_;      ///< by strip and side
};

}  // namespace

void dangling_conductor(const Drawing& drawing, Found& found) {
  const PartInsides insides(drawing);
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    if (c.is_spare() || c.kind == ConductorKind::bridge || c.kind == ConductorKind::busbar) continue;
    for (const PointId p : {c.from, c.to})
      if (insides.dangles_at(p))
        found.add("Nothing leads on from " + drawing.name(p) + ".", {drawing.conductor_row(i)});
  }
}

void conductors_per_side(const Drawing& drawing, Found& found) {
  const ConductionGraph& graph = drawing.graph;
  for (std::uint32_t i = 0; i < graph.point_count(); ++i) {
    const PointId p{i};
    if (drawing.points().side(p) == Side::single) continue;
    std::vector<ProblemRow> rows;
    // A bridge has a place of its own in a terminal, so only wires and cores count.
    for (const ElementId e : graph.elements_at(p))
      if (graph.is_conductor(e) && graph.kind(e) == ElementKind::conductor)
        rows.push_back(drawing.conductor_row(graph.origin(e).row));
    if (rows.size() > drawing.options.conductors_per_side)
      found.add(drawing.name(p) + " holds " + counted(rows.size(), "conductor") + ", more than " +
                    std::to_string(drawing.options.conductors_per_side) + ".",
                std::move(rows));
  }
}

void bridge_between_non_neighbours(const Drawing& drawing, Found& found) {
  for (std::uint32_t i = 0; i < drawing.netlist.conductors.size(); ++i) {
    const Conductor& c = drawing.netlist.conductors[i];
    if (c.kind != ConductorKind::bridge || c.from == c.to) continue;
    const auto is_terminal = [&](PointId p) { return drawing.points().side(p) != Side::single; };
    if (!is_terminal(c.from) || !is_terminal(c.to)) continue;
    if (drawing.graph.on_one_part(c.from, c.to) && places_apart(drawing.graph, c.from, c.to) == 1u) continue;
    found.add("The bridge joins " + drawing.name(c.from) + " and " + drawing.name(c.to) +
                  ", which are no neighbours.",
              {drawing.conductor_row(i)});
  }
}

}  // namespace ringtrue::check
