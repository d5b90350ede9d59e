#include "landing.hpp"

#include <algorithm>
#include <boost/pending/disjoint_sets.hpp>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>
#include <tuple>

namespace ringtrue {

double cost_of_prior(double prior) { return -std::log(prior / (1 - prior)); }

namespace {

/// A pin taken apart around its last run of digits: `12o` is "", 12, "o"; `0.3` is "0.", 3, "".
struct NumberedPin {
  std::string_view before, after;
  std::uint32_t number = 0;
};

std::optional<NumberedPin> numbered(std::string_view pin) {
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  std::size_t end = pin.size();
  while (end > 0 && !is_digit(pin[end - 1])) --end;
  std::size_t begin = end;
  while (begin > 0 && is_digit(pin[begin - 1])) --begin;
  if (begin == end || end - begin > 9) return std::nullopt;
  NumberedPin made{pin.substr(0, begin), pin.substr(end), 0};
  std::from_chars(pin.data() + begin, pin.data() + end, made.number);
  return made;
}

std::string_view part_name(const ConductionGraph& graph, PointId p) {
  const PointTable& points = graph.netlist().points;
  return part_of_place(points.place_name(points.place(p)));
}
std::string_view pin_name(const ConductionGraph& graph, PointId p) {
  const PointTable& points = graph.netlist().points;
  return pin_of_place(points.place_name(points.place(p)));
}

}  // namespace

Landing::Landing(const ConductionGraph& graph, const Priors& priors) : graph_(graph), priors_(priors) {
  find_blocks();
  set_costs(priors);
}

void Landing::find_blocks() {
  const auto separable = [this](std::uint32_t e) {
    const ElementKind kind = graph_.kind(ElementId{e});
    return kind == ElementKind::breakable || kind == ElementKind::contact;
  };
  for (std::uint32_t e = graph_.conductor_count(); e < graph_.element_count() && !own_blocks_; ++e)
    own_blocks_ = separable(e);
  if (!own_blocks_) {
    for (std::uint32_t net = 0; net < graph_.net_count(); ++net)
      first_of_block_.push_back(graph_.points_of_net(NetId{net}).front());
    return;
  }
  const std::uint32_t points = graph_.point_count();
  std::vector<std::uint32_t> parent(points);
  std::vector<std::uint8_t> rank(points, 0);
  boost::disjoint_sets<std::uint8_t*, std::uint32_t*, boost::find_with_path_halving> sets(rank.data(),
                                                                                          parent.data());
  for (std::uint32_t p = 0; p < points; ++p) sets.make_set(p);
  for (std::uint32_t e = 0; e < graph_.element_count(); ++e) {
    const ElementId id{e};
    if (graph_.is_hard(id) && graph_.is_on_at_rest(id) && !separable(e))
      sets.union_set(index(graph_.end_a(id)), index(graph_.end_b(id)));
  }
  constexpr std::uint32_t k_unset = 0xFFFFFFFFu;
  std::vector<std::uint32_t> number(points, k_unset);
  block_of_.resize(points);
  for (std::uint32_t p = 0; p < points; ++p) {
    std::uint32_t& block = number[sets.find_set(p)];
    if (block == k_unset) {
      block = static_cast<std::uint32_t>(first_of_block_.size());
      first_of_block_.push_back(PointId{p});
    }
    block_of_[p] = block;
  }
}

void Landing::set_costs(const Priors& priors) {
  contact_cost_ = cost_of_prior(priors.wrong_contact);
  extra_bridge_cost_ = cost_of_prior(priors.extra_bridge);
  short_cost_ = cost_of_prior(priors.short_circuit);
  short_of_neighbours_cost_ = cost_of_prior(priors.short_of_neighbours);
  const double likeliest =
      std::max({priors.open_conductor, priors.open_element, priors.blown_fuse, priors.missing_bridge,
                priors.wrong_contact, priors.miswire_neighbour, priors.miswire_strip,
                priors.miswire_elsewhere, priors.swap_neighbours, priors.swap_strip, priors.swap_elsewhere,
                priors.extra_bridge, priors.short_of_neighbours, priors.short_circuit});
  least_cost_ = cost_of_prior(likeliest);
}

Fault Landing::by_block(Fault fault) const {
  for (PointId* p : {&fault.p, &fault.q})
    if (*p != PointId::none) *p = first_of_block(block(*p));
  if (fault.kind == FaultKind::extra_bridge) fault.kind = FaultKind::short_circuit;
  if (fault.q != PointId::none && fault.q < fault.p) std::swap(fault.p, fault.q);
  return fault;
}

std::vector<PointId> Landing::neighbours(PointId p) const {
  std::vector<PointId> found;
  const PointTable& points = graph_.netlist().points;
  const auto pin = numbered(pin_name(graph_, p));
  if (!pin) return found;
  const std::string before = std::string(part_name(graph_, p)) + ":" + std::string(pin->before);
  const auto offer = [&](std::uint32_t number) {
    const auto place = points.find_place(before + std::to_string(number) + std::string(pin->after));
    const Side side = points.side(p);
    if (place && points.has_sides(*place) == (side != Side::single))
      found.push_back(points.point(*place, side));
  };
  if (pin->number > 0) offer(pin->number - 1);
  offer(pin->number + 1);
  return found;
}

const Landing::PartIndex& Landing::parts() const {
  if (parts_) return *parts_;
  parts_ = std::make_unique<PartIndex>();
  PartIndex& made = *parts_;
  const PointTable& points = graph_.netlist().points;
  made.part_of_place.resize(points.place_count());
  std::string_view last;
  std::uint32_t last_number = 0;
  for (std::uint32_t i = 0; i < points.place_count(); ++i) {
    const std::string_view part = part_of_place(points.place_name(PlaceId{i}));
    // Terminals of a strip mostly follow each other, so the last name often saves the look-up.
    if (part != last || i == 0) last_number = made.names.intern(last = part);
    made.part_of_place[i] = last_number;
  }
  made.start.assign(made.names.size() + 1, 0);
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
    ++made.start[made.part_of_place[index(points.place(PointId{p}))] + 1];
  for (std::size_t i = 0; i + 1 < made.start.size(); ++i) made.start[i + 1] += made.start[i];
  made.points.resize(graph_.point_count());
  std::vector<std::uint32_t> next(made.start.begin(), made.start.end() - 1);
  for (std::uint32_t p = 0; p < graph_.point_count(); ++p)
    made.points[next[made.part_of_place[index(points.place(PointId{p}))]]++] = PointId{p};
  return made;
}

std::span<const PointId> Landing::points_beside(PointId p) const {
  const PartIndex& index_of = parts();
  const std::uint32_t part = index_of.part_of_place[index(graph_.netlist().points.place(p))];
  return {index_of.points.data() + index_of.start[part], index_of.points.data() + index_of.start[part + 1]};
}

/// Places apart in one row of a part; the greatest number where the two are in no common row.
std::uint32_t Landing::distance(PointId a, PointId b) const {
  const auto x = numbered(pin_name(graph_, a)), y = numbered(pin_name(graph_, b));
  if (!x || !y || x->before != y->before || x->after != y->after) return 0xFFFFFFFFu;
  return x->number > y->number ? x->number - y->number : y->number - x->number;
}

std::vector<PointId> Landing::on_same_part(PointId p) const {
  std::vector<std::pair<std::uint32_t, PointId>> by_distance;
  for (const PointId q : points_beside(p))
    if (q != p) by_distance.emplace_back(distance(p, q), q);
  std::sort(by_distance.begin(), by_distance.end());
  std::vector<PointId> found;
  for (const auto& [apart, q] : by_distance) found.push_back(q);
  return found;
}

std::vector<PointId> Landing::points_of_block(PointId one) const {
  std::vector<PointId> points;
  for (const PointId p : graph_.points_of_net(graph_.net_at_rest(one)))
    if (block(p) == block(one)) points.push_back(p);
  return points;
}

std::pair<PointId, PointId> Landing::nearest_points(PointId in_one, PointId in_other) const {
  const auto effort = [this](PointId p, PointId q) {
    const PointTable& points = graph_.netlist().points;
    const auto off_strip = [&](PointId x) { return points.side(x) == Side::single ? 1 : 0; };
    const bool one_part = part_name(graph_, p) == part_name(graph_, q);
    return std::tuple{one_part ? distance(p, q) : 0xFFFFFFFFu, off_strip(p) + off_strip(q), p, q};
  };
  std::pair<PointId, PointId> best{in_one, in_other};
  const std::vector<PointId> others = points_of_block(in_other);
  for (const PointId p : points_of_block(in_one))
    for (const PointId q : others)
      if (effort(p, q) < effort(best.first, best.second)) best = {p, q};
  return best;
}

std::size_t Landing::points_on_part(PointId p) const { return points_beside(p).size(); }

Nearness Landing::nearness(PointId a, PointId b) const {
  if (part_name(graph_, a) != part_name(graph_, b)) return Nearness::elsewhere;
  const auto x = numbered(pin_name(graph_, a)), y = numbered(pin_name(graph_, b));
  const PointTable& points = graph_.netlist().points;
  const bool in_row =
      x && y && x->before == y->before && x->after == y->after && points.side(a) == points.side(b);
  if (in_row && (x->number + 1 == y->number || y->number + 1 == x->number)) return Nearness::neighbour;
  return Nearness::same_part;
}

double Landing::open_cost(ElementId e) const {
  if (graph_.kind(e) == ElementKind::link) return cost_of_prior(priors_.missing_bridge);
  if (graph_.is_conductor(e)) return cost_of_prior(priors_.open_conductor);
  const ElementOrigin from = graph_.origin(e);
  const bool fuse =
      from.from == ElementOrigin::From::part && graph_.netlist().parts[from.row].kind == PartKind::fuse;
  return cost_of_prior(fuse ? priors_.blown_fuse : priors_.open_element);
}

double Landing::wrong_value_cost(ElementId e) const {
  return cost_of_prior(graph_.is_hard(e) ? priors_.bad_joint : priors_.wrong_load);
}

bool Landing::can_be_of_wrong_value(ElementId e) const {
  const ElementOrigin from = graph_.origin(e);
  if (from.from != ElementOrigin::From::part) return false;
  const PartKind kind = graph_.netlist().parts[from.row].kind;
  return kind == PartKind::coil || kind == PartKind::lamp || kind == PartKind::resistor;
}

double Landing::miswire_cost(PointId drawn, Nearness nearness) const {
  switch (nearness) {
    case Nearness::neighbour:
      return cost_of_prior(priors_.miswire_neighbour);
    case Nearness::same_part:
      return cost_of_prior(priors_.miswire_strip / static_cast<double>(points_on_part(drawn)));
    case Nearness::elsewhere:
      return cost_of_prior(priors_.miswire_elsewhere / static_cast<double>(graph_.net_count()));
  }
  return 0;
}

double Landing::swap_cost(PointId one, Nearness nearness) const {
  switch (nearness) {
    case Nearness::neighbour:
      return cost_of_prior(priors_.swap_neighbours);
    case Nearness::same_part:
      return cost_of_prior(priors_.swap_strip / static_cast<double>(points_on_part(one)));
    case Nearness::elsewhere:
      return cost_of_prior(priors_.swap_elsewhere / (2.0 * graph_.conductor_count()));
  }
  return 0;
}

double Landing::least_miswire_cost(Nearness nearness) const {
  return cost_of_prior(nearness == Nearness::neighbour ? priors_.miswire_neighbour : priors_.miswire_strip);
}
double Landing::least_swap_cost(Nearness nearness) const {
  return cost_of_prior(nearness == Nearness::neighbour ? priors_.swap_neighbours : priors_.swap_strip);
}

FaultKind Landing::join_kind(PointId p, PointId q) const {
  const PointTable& points = graph_.netlist().points;
  const bool on_strip = points.side(p) != Side::single;
  return on_strip && nearness(p, q) == Nearness::neighbour ? FaultKind::extra_bridge
                                                           : FaultKind::short_circuit;
}

double Landing::join_cost(PointId p, PointId q) const {
  if (nearness(p, q) != Nearness::neighbour) return short_cost_;
  return join_kind(p, q) == FaultKind::extra_bridge ? extra_bridge_cost_ : short_of_neighbours_cost_;
}

double Landing::cost_of(const Fault& fault) const {
  switch (fault.kind) {
    case FaultKind::open:
    case FaultKind::missing_bridge:
      return open_cost(fault.element);
    case FaultKind::wrong_contact:
      return contact_cost_;
    case FaultKind::wrong_value:
      return wrong_value_cost(fault.element);
    case FaultKind::miswire: {
      const PointId from = drawn(fault.element, fault.end);
      return miswire_cost(from, nearness(from, fault.p));
    }
    case FaultKind::swap: {
      const PointId one = drawn(fault.element, fault.end);
      return swap_cost(one, nearness(one, drawn(fault.element2, fault.end2)));
    }
    case FaultKind::short_circuit:
    case FaultKind::extra_bridge:
      return join_cost(fault.p, fault.q);
  }
  return 0;
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
