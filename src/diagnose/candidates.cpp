#include "candidates.hpp"

#include <algorithm>
#include <set>
#include <unordered_set>

#include "low_reach.hpp"
#include "ringtrue/expect/currents.hpp"
#include "ringtrue/expect/hard_path.hpp"

namespace ringtrue {

namespace {

constexpr End k_ends[] = {End::a, End::b};
End other(End end) { return end == End::a ? End::b : End::a; }

Fault open_fault(FaultKind kind, ElementId e) {
  Fault fault;
  fault.kind = kind;
  fault.element = e;
  return fault;
}

/// Swaps have one form: the lower conductor first.
Fault swap_fault(ElementId e, End end, ElementId f, End f_end) {
  Fault fault;
  fault.kind = FaultKind::swap;
  fault.element = e, fault.end = end, fault.element2 = f, fault.end2 = f_end;
  if (f < e) std::swap(fault.element, fault.element2), std::swap(fault.end, fault.end2);
  return fault;
}

bool uses(const Fault& fault, ElementId e) { return fault.element == e || fault.element2 == e; }

/// The end of `e` that the fault moves; an open takes both.
bool uses_end(const Fault& fault, ElementId e, End end) {
  if (fault.kind == FaultKind::open || fault.kind == FaultKind::missing_bridge ||
      fault.kind == FaultKind::wrong_contact || fault.kind == FaultKind::wrong_value)
    return uses(fault, e);
  return (fault.element == e && fault.end == end) || (fault.element2 == e && fault.end2 == end);
}

}  // namespace

bool is_compatible(const Fault& fault, std::span<const Fault> faults, const Landing& landing) {
  const auto joins = [](const Fault& f) {
    return f.kind == FaultKind::short_circuit || f.kind == FaultKind::extra_bridge;
  };
  return std::none_of(faults.begin(), faults.end(), [&](const Fault& held) {
    if (joins(fault) != joins(held)) return false;
    if (joins(fault)) {
      const auto blocks = [&](const Fault& f) {
        return std::minmax({landing.block(f.p), landing.block(f.q)});
      };
      return blocks(fault) == blocks(held);
    }
    for (const ElementId e : {fault.element, fault.element2})
      for (const End end : k_ends)
        if (e != ElementId::none && uses_end(fault, e, end) && uses_end(held, e, end)) return true;
    return false;
  });
}

/// Gathers candidates that fit the faults already assumed, each once.
class Candidates::Collector {
 public:
  Collector(std::span<const Fault> held, double max_cost, const Landing& landing)
      : held_(held), max_cost_(max_cost), landing_(landing) {}

  [[nodiscard]] double max_cost() const { return max_cost_; }
  void add(const Fault& fault, double cost) {
    if (cost <= max_cost_ && is_compatible(fault, held_, landing_)) found_.push_back({fault, cost});
  }
  [[nodiscard]] bool holds_element(ElementId e) const {
    return std::any_of(held_.begin(), held_.end(), [e](const Fault& f) { return uses(f, e); });
  }
  /// Cheapest first; of candidates that only differ in the point of a block on which something lands, the
  /// cheapest.
  std::vector<Candidate> take() {
    std::sort(found_.begin(), found_.end(), [](const Candidate& x, const Candidate& y) {
      return x.cost != y.cost ? x.cost < y.cost : x.fault < y.fault;
    });
    std::set<Fault> seen;
    const auto is_repeated = [&](const Candidate& candidate) {
      return !seen.insert(landing_.by_block(candidate.fault)).second;
    };
    found_.erase(std::remove_if(found_.begin(), found_.end(), is_repeated), found_.end());
    return std::move(found_);
  }

 private:
  std::span<const Fault> held_;
  double max_cost_;
  const Landing& landing_;
  std::vector<Candidate> found_;
};

std::vector<Candidate> Candidates::branch_set(std::span<const Fault> faults, ReadingId reading,
                                              double max_cost, Reach reach) const {
  const Overlay overlay = consistency_.overlay(faults, reading);
  const View view(graph_, overlay);
  const Probing& probing = consistency_.probing(reading);
  Collector into(faults, max_cost, landing_);
  if (probing.value.kind == ValueKind::ohms) {
    explain_ohms(view, probing, circuit_ohms(probing.value.number, consistency_.meter(reading)), reach, into);
    return into.take();
  }
  if (hard_path(view, probing)) {
    break_path(view, probing, into);
    return into.take();
  }
  if (probing.value.kind != ValueKind::beep) {
    // No copper, and yet a beep was certain: a load of few ohms, or a meter whose OL says more.
    const Ohms expected = expected_resistance(view, probing, Counting::limited).hi;
    for (const ElementId e : elements_that_hold_down(view, probing, expected)) raise_element(e, into);
    return into.take();
  }
  const Ohms threshold = beep_limit(consistency_.meter(reading));
  const LowReach red(view, probing.from, probing.from_either_side, threshold);
  const LowReach black(view, probing.to, probing.to_either_side, threshold);
  const Membership in_red = [&](PointId p) { return red.holds(p); };
  const Membership in_black = [&](PointId p) { return black.holds(p); };
  if (reach == Reach::alone) {
    const std::vector<PointId> red_points = red.points(), black_points = black.points();
    if (red_points.size() <= black_points.size())
      cross(red_points, &black_points, in_black, into);
    else
      cross(black_points, &red_points, in_red, into);
  } else {
    const Membership outside = [&](PointId p) { return !red.holds(p); };
    cross(red.points(), nullptr, outside, into);
  }
  return into.take();
}

// --- values in ohms ----------------------------------------------------------------------------------------

void Candidates::explain_ohms(const View& view, const Probing& probing, OhmInterval shown, Reach reach,
                              Collector& into) const {
  const OhmInterval expected = expected_resistance(view, probing);
  if (shown.lo > expected.hi) {
    for (const ElementId e : elements_that_hold_down(view, probing, expected.hi)) raise_element(e, into);
    return;
  }
  const JointPlaces places = places_that_lower(view, probing, shown.hi);
  for (const ElementId load : places.loads)
    if (landing_.can_be_of_wrong_value(load)) add_wrong_value(load, into);
  if (reach == Reach::alone) {
    const Membership at_black = [&](PointId p) {
      return std::binary_search(places.at_black.begin(), places.at_black.end(), p);
    };
    cross(places.at_red, &places.at_black, at_black, into);
  } else {
    cross(
        places.anywhere, nullptr, [](PointId) { return true; }, into);
  }
}

void Candidates::add_wrong_value(ElementId e, Collector& into) const {
  into.add(open_fault(FaultKind::wrong_value, e), landing_.wrong_value_cost(e));
}

/// Everything by which an element's resistance can rise.
void Candidates::raise_element(ElementId e, Collector& into) const {
  break_element(e, into);
  if (graph_.is_hard(e) || landing_.can_be_of_wrong_value(e)) add_wrong_value(e, into);
}

// --- breaking a path
// --------------------------------------------------------------------------------------------------

void Candidates::break_path(const View& view, const Probing& probing, Collector& into) const {
  const auto path = hard_path(view, probing);
  for (const View::Edge& edge : path->edges)
    if (edge.element != ElementId::none) break_element(edge.element, into);
}

void Candidates::break_element(ElementId e, Collector& into) const {
  into.add(open_fault(landing_.open_kind(e), e), landing_.open_cost(e));
  if (graph_.kind(e) == ElementKind::contact && landing_.can_be_exchanged(e)) {
    Fault fault = open_fault(FaultKind::wrong_contact, e);
    fault.element2 = landing_.other_contact(e);
    if (fault.element2 != ElementId::none && fault.element2 < e) std::swap(fault.element, fault.element2);
    into.add(fault, landing_.contact_cost());
  }
  if (!landing_.is_movable(e)) return;
  for (const End end : k_ends) {
    move_away(e, end, into);
    swap_away(e, end, into);
  }
}

void Candidates::move_away(ElementId e, End end, Collector& into) const {
  const PointId drawn = landing_.drawn(e, end);
  const auto anywhere = [](PointId) { return true; };
  for_each_landing(drawn, into.max_cost(), anywhere, [&](PointId found, double cost) {
    Fault fault;
    fault.kind = FaultKind::miswire;
    fault.element = e, fault.end = end, fault.p = found;
    into.add(fault, cost);
  });
}

void Candidates::swap_away(ElementId e, End end, Collector& into) const {
  for_each_swap(landing_.drawn(e, end), into.max_cost(), [&](ElementId f, End f_end, double cost) {
    if (f != e) into.add(swap_fault(e, end, f, f_end), cost);
  });
}

// --- where ends can go
// --------------------------------------------------------------------------------------------------

template <class Visit>
void Candidates::for_each_end_at(PointId p, Visit&& visit) const {
  for (const ElementId e : graph_.elements_at(p)) {
    if (!landing_.is_movable(e)) continue;
    for (const End end : k_ends)
      if (landing_.drawn(e, end) == p) visit(e, end);
  }
}

template <class Visit>
void Candidates::for_each_landing(PointId drawn, double max_cost, const Membership& wanted,
                                  Visit&& visit) const {
  const NetId own = graph_.net_at_rest(drawn);
  std::vector<std::uint32_t> seen;
  const auto offer = [&](PointId p, double cost) {
    if (graph_.net_at_rest(p) == own || !wanted(p)) return;
    const std::uint32_t block = landing_.block(p);
    if (std::find(seen.begin(), seen.end(), block) != seen.end()) return;
    seen.push_back(block);
    visit(p, cost);
  };
  const double near_cost = landing_.miswire_cost(drawn, Nearness::neighbour);
  if (near_cost > max_cost) return;
  for (const PointId p : landing_.neighbours(drawn)) offer(p, near_cost);
  if (landing_.least_miswire_cost(Nearness::same_part) > max_cost) return;
  const double part_cost = landing_.miswire_cost(drawn, Nearness::same_part);
  if (part_cost <= max_cost)
    for (const PointId p : landing_.on_same_part(drawn)) offer(p, part_cost);
  const double far_cost = landing_.miswire_cost(drawn, Nearness::elsewhere);
  if (far_cost > max_cost) return;
  std::vector<bool> is_seen(landing_.block_count(), false);
  for (const std::uint32_t block : seen) is_seen[block] = true;
  for (std::uint32_t block = 0; block < landing_.block_count(); ++block) {
    const PointId p = landing_.first_of_block(block);
    if (!is_seen[block] && graph_.net_at_rest(p) != own && wanted(p)) visit(p, far_cost);
  }
}

template <class Visit>
void Candidates::for_each_swap(PointId drawn, double max_cost, Visit&& visit) const {
  const NetId own = graph_.net_at_rest(drawn);
  const auto offer_at = [&](PointId p, double cost) {
    if (graph_.net_at_rest(p) != own) for_each_end_at(p, [&](ElementId f, End end) { visit(f, end, cost); });
  };
  const double near_cost = landing_.swap_cost(drawn, Nearness::neighbour);
  if (near_cost > max_cost) return;
  const std::vector<PointId> near = landing_.neighbours(drawn);
  for (const PointId p : near) offer_at(p, near_cost);
  if (landing_.least_swap_cost(Nearness::same_part) > max_cost) return;
  const double part_cost = landing_.swap_cost(drawn, Nearness::same_part);
  std::unordered_set<PointId> done(near.begin(), near.end());
  if (part_cost <= max_cost)
    for (const PointId p : landing_.on_same_part(drawn))
      if (done.insert(p).second) offer_at(p, part_cost);
  const double far_cost = landing_.swap_cost(drawn, Nearness::elsewhere);
  if (far_cost > max_cost) return;
  for (std::uint32_t i = 0; i < graph_.conductor_count(); ++i) {
    const ElementId f{i};
    if (!landing_.is_movable(f)) continue;
    for (const End end : k_ends) {
      const PointId p = landing_.drawn(f, end);
      if (p != drawn && graph_.net_at_rest(p) != own && done.count(p) == 0) visit(f, end, far_cost);
    }
  }
}

// --- edges that leave the red probe's net
// ---------------------------------------------------------------------------

void Candidates::cross(const std::vector<PointId>& inside, const std::vector<PointId>* far,
                       const Membership& in_t, Collector& into) const {
  join_across(inside, far, in_t, into);
  for (const PointId p : inside) {
    move_out(p, in_t, into);
    move_in(p, in_t, into);
    swap_across(p, in_t, into);
    close_contacts(p, in_t, into);
  }
  move_in_from_anywhere(inside, in_t, into);
}

std::vector<std::uint32_t> Candidates::blocks_of(const std::vector<PointId>& points) const {
  std::vector<std::uint32_t> blocks;
  for (const PointId p : points) blocks.push_back(landing_.block(p));
  std::sort(blocks.begin(), blocks.end());
  blocks.erase(std::unique(blocks.begin(), blocks.end()), blocks.end());
  return blocks;
}

void Candidates::join_across(const std::vector<PointId>& inside, const std::vector<PointId>* far,
                             const Membership& in_t, Collector& into) const {
  const auto join = [&](PointId p, PointId q) {
    Fault fault;
    fault.kind = landing_.join_kind(p, q);
    fault.p = std::min(p, q), fault.q = std::max(p, q);
    into.add(fault, landing_.join_cost(p, q));
  };
  std::vector<std::pair<std::uint32_t, std::uint32_t>>
      bridged;  // blocks that have neighbours: no second candidate for them
  for (const PointId p : inside)
    for (const PointId q : landing_.neighbours(p)) {
      if (!in_t(q) || graph_.net_at_rest(p) == graph_.net_at_rest(q)) continue;
      bridged.emplace_back(landing_.block(p), landing_.block(q));
      join(p, q);
    }
  if (landing_.short_cost() > into.max_cost()) return;
  std::sort(bridged.begin(), bridged.end());
  const std::vector<std::uint32_t> own = blocks_of(inside);
  const auto join_block = [&](std::uint32_t block) {
    const PointId q = landing_.first_of_block(block);
    if (!in_t(q)) return;
    for (const std::uint32_t mine : own) {
      const PointId p = landing_.first_of_block(mine);
      if (graph_.net_at_rest(p) == graph_.net_at_rest(q)) continue;
      if (!std::binary_search(bridged.begin(), bridged.end(), std::pair{mine, block})) join(p, q);
    }
  };
  if (far != nullptr)
    for (const std::uint32_t block : blocks_of(*far)) join_block(block);
  else
    for (std::uint32_t block = 0; block < landing_.block_count(); ++block) join_block(block);
}

/// A conductor with one end inside: its other end goes over.
void Candidates::move_out(PointId inside, const Membership& in_t, Collector& into) const {
  for_each_end_at(inside, [&](ElementId e, End stays) {
    const End moves = other(stays);
    for_each_landing(landing_.drawn(e, moves), into.max_cost(), in_t, [&](PointId found, double cost) {
      Fault fault;
      fault.kind = FaultKind::miswire;
      fault.element = e, fault.end = moves, fault.p = found;
      into.add(fault, cost);
    });
  });
}

/// A conductor beside the point comes in: drawn on a neighbour or elsewhere on the part, its other end on the
/// far side.
void Candidates::move_in(PointId inside, const Membership& in_t, Collector& into) const {
  const auto offer = [&](PointId drawn, Nearness nearness) {
    if (graph_.net_at_rest(drawn) == graph_.net_at_rest(inside)) return;
    const double cost = landing_.miswire_cost(drawn, nearness);
    if (cost > into.max_cost()) return;
    for_each_end_at(drawn, [&](ElementId e, End moves) {
      if (!in_t(landing_.drawn(e, other(moves)))) return;
      Fault fault;
      fault.kind = FaultKind::miswire;
      fault.element = e, fault.end = moves, fault.p = inside;
      into.add(fault, cost);
    });
  };
  const std::vector<PointId> near = landing_.neighbours(inside);
  for (const PointId p : near) offer(p, Nearness::neighbour);
  if (landing_.least_miswire_cost(Nearness::same_part) > into.max_cost()) return;
  for (const PointId p : landing_.on_same_part(inside))
    if (std::find(near.begin(), near.end(), p) == near.end()) offer(p, Nearness::same_part);
}

/// The same for conductors drawn far away: one landing per block inside.
void Candidates::move_in_from_anywhere(const std::vector<PointId>& inside, const Membership& in_t,
                                       Collector& into) const {
  if (inside.empty()) return;
  const double far_cost = landing_.miswire_cost(inside.front(), Nearness::elsewhere);
  if (far_cost > into.max_cost()) return;
  std::vector<PointId> landings;
  for (const std::uint32_t block : blocks_of(inside)) landings.push_back(landing_.first_of_block(block));
  for (std::uint32_t i = 0; i < graph_.conductor_count(); ++i) {
    const ElementId e{i};
    if (!landing_.is_movable(e)) continue;
    for (const End moves : k_ends) {
      if (!in_t(landing_.drawn(e, other(moves)))) continue;
      const PointId drawn = landing_.drawn(e, moves);
      for (const PointId found : landings) {
        if (graph_.net_at_rest(found) == graph_.net_at_rest(drawn)) continue;
        if (landing_.nearness(drawn, found) != Nearness::elsewhere) continue;
        Fault fault;
        fault.kind = FaultKind::miswire;
        fault.element = e, fault.end = moves, fault.p = found;
        into.add(fault, far_cost);
      }
    }
  }
}

/// An end inside and an end elsewhere change places, so that a conductor then crosses.
void Candidates::swap_across(PointId inside, const Membership& in_t, Collector& into) const {
  // The conductor that has one end inside takes its other end over ...
  for_each_end_at(inside, [&](ElementId e, End stays) {
    const End moves = other(stays);
    for_each_swap(landing_.drawn(e, moves), into.max_cost(), [&](ElementId f, End f_end, double cost) {
      if (f != e && in_t(landing_.drawn(f, f_end))) into.add(swap_fault(e, moves, f, f_end), cost);
    });
  });
  // ... or the end that lies inside makes room for one whose conductor leads to the far side.
  for_each_end_at(inside, [&](ElementId e, End moves) {
    for_each_swap(inside, into.max_cost(), [&](ElementId f, End f_end, double cost) {
      if (f != e && in_t(landing_.drawn(f, other(f_end)))) into.add(swap_fault(e, moves, f, f_end), cost);
    });
  });
}

void Candidates::close_contacts(PointId inside, const Membership& in_t, Collector& into) const {
  for (const ElementId e : graph_.elements_at(inside)) {
    if (graph_.kind(e) != ElementKind::contact || !landing_.can_be_exchanged(e)) continue;
    if (!in_t(graph_.other_end(e, inside))) continue;
    Fault fault = open_fault(FaultKind::wrong_contact, e);
    fault.element2 = landing_.other_contact(e);
    if (fault.element2 != ElementId::none && fault.element2 < e) std::swap(fault.element, fault.element2);
    into.add(fault, landing_.contact_cost());
  }
}

}  // namespace ringtrue
