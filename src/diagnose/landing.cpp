#include "landing.hpp"

#include <algorithm>
#include <optional>
#include <string>
#include <tuple>

#include "ringtrue/base/classes.hpp"
#include "ringtrue/graph/rows.hpp"
#include "rows_of_wires.hpp"

namespace ringtrue {

Landing::Landing(const ConductionGraph& graph, std::span<const ConditionOverlay> conditions) : graph_(graph) {
  find_blocks(conditions);
}

void Landing::find_blocks(std::span<const ConditionOverlay> conditions) {
  const std::uint32_t points = graph_.point_count();
  const auto is_separable = [this](std::uint32_t e) {
    const ElementKind kind = graph_.kind(ElementId{e});
    return kind == ElementKind::breakable || kind == ElementKind::contact;
  };
  std::vector<ElementId> changed;
  for (const ConditionOverlay& condition : conditions)
    for (const ElementChange& change : condition.overlay.changes())
      if (graph_.is_hard(change.element) && !is_separable(index(change.element)))
        changed.push_back(change.element);
  std::sort(changed.begin(), changed.end());
  own_blocks_ = !changed.empty();
  for (std::uint32_t e = graph_.conductor_count(); e < graph_.element_count() && !own_blocks_; ++e)
    own_blocks_ = is_separable(e);
  if (!own_blocks_) {
    for (std::uint32_t net = 0; net < graph_.net_count(); ++net)
      first_of_block_.push_back(graph_.points_of_net(NetId{net}).front());
    return;
  }
  Classes joined(points);
  for (std::uint32_t e = 0; e < graph_.element_count(); ++e) {
    const ElementId id{e};
    if (graph_.is_hard(id) && graph_.is_on_at_rest(id) && !is_separable(e) &&
        !std::binary_search(changed.begin(), changed.end(), id))
      joined.join(index(graph_.end_a(id)), index(graph_.end_b(id)));
  }
  constexpr std::uint32_t k_unset = 0xFFFFFFFFu;
  std::vector<std::uint32_t> number(points, k_unset);
  block_of_.resize(points);
  for (std::uint32_t p = 0; p < points; ++p) {
    std::uint32_t& block = number[joined.of(p)];
    if (block == k_unset) {
      block = static_cast<std::uint32_t>(first_of_block_.size());
      first_of_block_.push_back(PointId{p});
    }
    block_of_[p] = block;
  }
}

std::vector<PointId> Landing::points_of_block(std::uint32_t wanted) const {
  std::vector<PointId> points;
  for (const PointId p : graph_.points_of_net(graph_.net_at_rest(first_of_block(wanted))))
    if (block(p) == wanted) points.push_back(p);
  return points;
}

std::span<const Landing::BlockOnPart> Landing::blocks_on_part(PointId p) const {
  const auto [at, is_new] = blocks_on_part_.try_emplace(points_beside(p).front());
  std::vector<BlockOnPart>& blocks = at->second;
  if (!is_new) return blocks;
  for (const PointId q : points_beside(p)) blocks.push_back({block(q), q});
  std::sort(blocks.begin(), blocks.end(), [](const BlockOnPart& x, const BlockOnPart& y) {
    return std::pair(x.block, x.first) < std::pair(y.block, y.first);
  });
  const auto same = [](const BlockOnPart& x, const BlockOnPart& y) { return x.block == y.block; };
  blocks.erase(std::unique(blocks.begin(), blocks.end(), same), blocks.end());
  return blocks;
}

PointId Landing::landing(PointId drawn, std::uint32_t wanted) const {
  for (const PointId p : neighbours(drawn))
    if (p != PointId::none && block(p) == wanted) return p;
  const std::span<const BlockOnPart> near = blocks_on_part(drawn);
  const auto at = std::lower_bound(near.begin(), near.end(), wanted,
                                   [](const BlockOnPart& x, std::uint32_t y) { return x.block < y; });
  return at != near.end() && at->block == wanted ? at->first : first_of_block(wanted);
}

const std::vector<Landing::BlockJoint>& Landing::joints_at_neighbours(std::uint32_t own) const {
  const auto [at, is_new] = joints_.try_emplace(own);
  std::vector<BlockJoint>& joints = at->second;
  if (!is_new) return joints;
  for (const PointId p : points_of_block(own))
    for (const PointId q : neighbours(p))
      if (q != PointId::none && block(q) != own)
        joints.push_back({block(q), {std::min(p, q), std::max(p, q)}});
  const auto order = [this](const BlockJoint& joint) {
    const bool is_pin = join_kind(joint.second.p, joint.second.q) != FaultKind::extra_bridge;
    return std::tuple(joint.first, is_pin, joint.second.p, joint.second.q);
  };
  std::sort(joints.begin(), joints.end(),
            [&](const BlockJoint& x, const BlockJoint& y) { return order(x) < order(y); });
  const auto same = [](const BlockJoint& x, const BlockJoint& y) { return x.first == y.first; };
  joints.erase(std::unique(joints.begin(), joints.end(), same), joints.end());
  return joints;
}

Joint Landing::joint(std::uint32_t one, std::uint32_t other) const {
  const std::vector<BlockJoint>& near = joints_at_neighbours(one);
  const auto at = std::lower_bound(near.begin(), near.end(), other,
                                   [](const BlockJoint& x, std::uint32_t y) { return x.first < y; });
  if (at != near.end() && at->first == other) return at->second;
  const auto [p, q] = std::minmax({first_of_block(one), first_of_block(other)});
  return {p, q};
}

namespace {

constexpr std::uint32_t k_far = 0xFFFFFFFFu;

}  // namespace

std::pair<PointId, PointId> Landing::nearest_points(PointId in_one, PointId in_other) const {
  const auto effort = [this](PointId p, PointId q) {
    const PointTable& points = graph_.netlist().points;
    const auto off_strip = [&](PointId x) { return points.side(x) == Side::single ? 1 : 0; };
    return std::tuple{graph_.on_one_part(p, q) ? places_apart(graph_, p, q).value_or(k_far) : k_far,
                      off_strip(p) + off_strip(q), p, q};
  };
  std::pair<PointId, PointId> best{in_one, in_other};
  const std::vector<PointId> others = points_of_block(block(in_other));
  for (const PointId p : points_of_block(block(in_one)))
    for (const PointId q : others)
      if (effort(p, q) < effort(best.first, best.second)) best = {p, q};
  return best;
}

PointId Landing::nearest_landing(PointId drawn, PointId found) const {
  const auto effort = [&](PointId p) { return std::pair(places_apart(graph_, drawn, p).value_or(k_far), p); };
  if (nearness(drawn, found) != Nearness::same_part) return found;
  PointId best = found;
  for (const PointId p : points_beside(drawn))
    if (block(p) == block(found) && effort(p) < effort(best)) best = p;
  return best;
}

Nearness Landing::nearness(PointId a, PointId b) const {
  if (!graph_.on_one_part(a, b)) return Nearness::elsewhere;
  const auto& beside = neighbours(a);
  return b == beside[0] || b == beside[1] ? Nearness::neighbour : Nearness::same_part;
}

// --- shifts -----------------------------------------------------------------------------------------------

bool Landing::has_wires(PointId p) const {
  const auto at = graph_.elements_at(p);
  return std::any_of(at.begin(), at.end(), [this](ElementId e) { return is_wire_in_panel(e, graph_); });
}

std::vector<Fault> Landing::shifts_of(PointId p) const {
  std::vector<Fault> shifts;
  if (!has_wires(p)) return shifts;
  const RowOfWires row(graph_, RowOfWires::first_of(graph_, p));
  row.for_each_run(p, [&](const RowOfWires::Run& run) {
    shifts.push_back(row.shift(run));
    return true;
  });
  add_connectors(p, shifts);
  return shifts;
}

/// How many wired pins the part has, if each finds its like on the other; else nothing.
std::optional<std::size_t> Landing::pins_that_fit(PointId pin_of_one, PointId pin_of_other) const {
  const std::string other(part_name(graph_, pin_of_other));
  std::size_t wired = 0;
  for (const PointId at : points_beside(pin_of_one)) {
    if (!has_wires(at)) continue;
    if (!graph_.netlist().points.find_place(other + ":" + std::string(pin_name(graph_, at))))
      return std::nullopt;
    ++wired;
  }
  return wired;
}

void Landing::add_connectors(PointId p, std::vector<Fault>& shifts) const {
  constexpr std::size_t k_fewest_pins = 3;
  const auto offer = [&](PointId pin_of_one, PointId pin_of_other) {
    if (pin_of_one == PointId::none || pin_of_other == PointId::none) return;
    const auto one = pins_that_fit(pin_of_one, pin_of_other), other = pins_that_fit(pin_of_other, pin_of_one);
    if (!one || !other || std::max(*one, *other) < k_fewest_pins) return;
    Fault fault;
    fault.kind = FaultKind::shift;
    fault.p = points_beside(pin_of_one).front(), fault.q = points_beside(pin_of_other).front();
    shifts.push_back(fault);
  };
  offer(p, on_part_beside(graph_, p, 1));
  offer(on_part_beside(graph_, p, -1), p);
}

// --- what an element can be ------------------------------------------------------------------------------

FaultKind Landing::join_kind(PointId p, PointId q) const {
  const PointTable& points = graph_.netlist().points;
  const bool on_strip = points.side(p) != Side::single;
  return on_strip && nearness(p, q) == Nearness::neighbour ? FaultKind::extra_bridge
                                                           : FaultKind::short_circuit;
}

bool Landing::can_be_of_wrong_value(ElementId e) const {
  const ElementOrigin from = graph_.origin(e);
  if (from.from != ElementOrigin::From::part) return false;
  const PartKind kind = graph_.netlist().parts[from.row].kind;
  return kind == PartKind::coil || kind == PartKind::lamp || kind == PartKind::resistor;
}

bool Landing::can_be_exchanged(ElementId contact) const {
  const ElementOrigin from = graph_.origin(contact);
  const Part& part = graph_.netlist().parts[from.row];
  return part.closed_in.empty() && part.place != PartPlace::field;
}

ElementId Landing::other_contact(ElementId contact) const {
  const std::vector<Part>& parts = graph_.netlist().parts;
  const Part& own = parts[graph_.origin(contact).row];
  for (const std::uint32_t row : graph_.netlist().parts_named(own.part)) {
    const Part& other = parts[row];
    const bool contacts =
        (other.kind == PartKind::contact_no || other.kind == PartKind::contact_nc) && other.kind != own.kind;
    if (!contacts || !other.closed_in.empty()) continue;
    if (other.a == own.a || other.a == own.b || other.b == own.a || other.b == own.b)
      return graph_.element_of_part(row);
  }
  return ElementId::none;
}

}  // namespace ringtrue
