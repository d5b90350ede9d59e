#include "crossing.hpp"

#include <algorithm>
#include <array>

#include "ringtrue/graph/rows.hpp"

namespace ringtrue {

void Crossing::singly_from(const std::vector<PointId>& inside) {
  join_across(inside);
  for (const PointId p : inside) {
    if (into_.is_full()) return;
    moves_.for_each_end_at(p, [&](ElementId e, End stays) {
      if (now(e, stays) == p) move_out(e, stays);
    });
    move_in(p);
    close_contacts(p);
  }
  for_each_moved_end(inside, [&](ElementId e, End stays, PointId) { move_out(e, stays); });
  move_in_from_anywhere(inside);
}

void Crossing::swaps_from(const std::vector<PointId>& inside) {
  for (const PointId p : inside) {
    if (into_.is_full()) return;
    moves_.for_each_end_at(p, [&](ElementId e, End stays) {
      if (now(e, stays) == p) swap_out(e, stays);
    });
    swap_in(p);
  }
  for_each_moved_end(inside, [&](ElementId e, End stays, PointId) { swap_out(e, stays); });
}

void Crossing::shifts_from(const std::vector<PointId>& inside, Shifts& shifts) {
  if (costs_.least_shift() > into_.max_cost()) return;
  for (const PointId p : inside) {
    if (into_.is_full()) return;
    moves_.for_each_end_at(p, [&](ElementId e, End stays) {
      if (now(e, stays) == p) shift_across(p, landing_.drawn(e, other(stays)), shifts);
    });
    for (const int places : {-2, -1, 1, 2}) shift_across(p, point_beside(graph_, p, places), shifts);
    for (const int numbers : {-1, 1}) shift_across(p, on_part_beside(graph_, p, numbers), shifts);
  }
  for_each_moved_end(inside, [&](ElementId e, End stays, PointId at) {
    shift_across(at, landing_.drawn(e, other(stays)), shifts);
  });
}

/// Conductors that the condition or an assumed fault brought inside with one end: their other one goes over.
template <class Visit>
void Crossing::for_each_moved_end(const std::vector<PointId>& inside, Visit&& visit) const {
  const auto is_inside = [&](PointId p) {
    return index(p) < graph_.point_count() ? std::binary_search(inside.begin(), inside.end(), p)
                                           : !is_outside_(p);
  };
  for (const ElementChange& change : view_.overlay().changes()) {
    if (!change.on || !landing_.is_movable(change.element)) continue;
    for (const End stays : {End::a, End::b}) {
      const PointId at = stays == End::a ? change.a : change.b;
      if (at != landing_.drawn(change.element, stays) && is_inside(at)) visit(change.element, stays, at);
    }
  }
}

void Crossing::join_across(const std::vector<PointId>& inside) {
  const auto is_inside = [&](PointId p) { return std::binary_search(inside.begin(), inside.end(), p); };
  std::vector<std::uint32_t> own;
  for (const PointId p : inside) own.push_back(landing_.block(p));
  std::sort(own.begin(), own.end());
  own.erase(std::unique(own.begin(), own.end()), own.end());
  const auto offer = [&](const Joint& joint) {
    if (((is_inside(joint.p) && in_t_(joint.q)) || (is_inside(joint.q) && in_t_(joint.p))) &&
        may_do(joint.p, joint.q))
      into_.add(joint_fault(joint.p, joint.q, landing_), costs_.join(joint.p, joint.q));
  };
  for (const std::uint32_t mine : own)
    for (const auto& [block, joint] : landing_.joints_at_neighbours(mine)) offer(joint);
  if (costs_.distant_short() > into_.max_cost()) return;
  for (const std::uint32_t mine : own) {
    if (into_.is_full()) return;
    // What has neighbours was offered there.
    const auto& near = landing_.joints_at_neighbours(mine);
    auto next = near.begin();
    FarSide::for_each_block(far_, landing_, [&](std::uint32_t block) {
      while (next != near.end() && next->first < block) ++next;
      if (block == mine || (next != near.end() && next->first == block)) return;
      offer({landing_.first_of_block(mine), landing_.first_of_block(block)});
    });
  }
}

/// A conductor with one end inside: its other end goes over.
void Crossing::move_out(ElementId e, End stays) {
  const End moves = other(stays);
  const PointId inside = now(e, stays);
  moves_.for_each_landing(landing_.drawn(e, moves), into_.max_cost(), in_t_, far_,
                          [&](PointId found, double cost) {
                            if (may_do(inside, found)) into_.add(miswire_fault(e, moves, found), cost);
                          });
}

/// A conductor beside the point comes in: drawn on a neighbour or elsewhere on the part, its other end on the
/// far side.
void Crossing::move_in(PointId inside) {
  const std::uint32_t own = landing_.block(inside);
  const auto offer = [&](PointId drawn, Nearness nearness) {
    if (landing_.block(drawn) == own) return;
    const double cost = costs_.miswire(drawn, nearness);
    if (cost > into_.max_cost() || landing_.landing(drawn, own) != inside) return;
    moves_.for_each_end_at(drawn, [&](ElementId e, End moves) {
      const PointId far = now(e, other(moves));
      if (in_t_(far) && may_do(inside, far)) into_.add(miswire_fault(e, moves, inside), cost);
    });
  };
  const auto& near = landing_.neighbours(inside);
  for (const PointId p : near)
    if (p != PointId::none) offer(p, Nearness::neighbour);
  if (costs_.least_miswire(Nearness::same_part) > into_.max_cost()) return;
  const std::span<const Landing::BlockOnPart> blocks = landing_.blocks_on_part(inside);
  const auto at =
      std::lower_bound(blocks.begin(), blocks.end(), own,
                       [](const Landing::BlockOnPart& x, std::uint32_t y) { return x.block < y; });
  if (at->first != inside) return;
  for (const PointId p : landing_.points_beside(inside))
    if (p != near[0] && p != near[1]) offer(p, Nearness::same_part);
}

/// The same for conductors drawn far away: one landing per block inside.
void Crossing::move_in_from_anywhere(const std::vector<PointId>& inside) {
  if (inside.empty()) return;
  const double far_cost = costs_.miswire(inside.front(), Nearness::elsewhere);
  if (far_cost > into_.max_cost()) return;
  std::vector<PointId> landings;
  for (const PointId p : inside)
    if (landing_.first_of_block(landing_.block(p)) == p) landings.push_back(p);
  FarSide::for_each_conductor(far_, landing_, [&](ElementId e) {
    if (into_.is_full()) return;
    for (const End moves : {End::a, End::b}) {
      const PointId far = now(e, other(moves));
      if (!in_t_(far)) continue;
      const PointId drawn = landing_.drawn(e, moves);
      for (const PointId found : landings)
        if (landing_.block(found) != landing_.block(drawn) &&
            landing_.nearness(drawn, found) == Nearness::elsewhere &&
            landing_.landing(drawn, landing_.block(found)) == found && may_do(found, far))
          into_.add(miswire_fault(e, moves, found), far_cost);
    }
  });
}

/// The conductor that has one end inside takes its other end to the place of an end on the far side.
void Crossing::swap_out(ElementId e, End stays) {
  const End moves = other(stays);
  moves_.for_each_swap(
      landing_.drawn(e, moves), into_.max_cost(), far_side_of(e), [&](ElementId f, End f_end, double cost) {
        if (f != e && is_outside_(landing_.drawn(f, f_end)) && may_do_by_swap(e, moves, f, f_end))
          into_.add(swap_fault(e, moves, f, f_end), cost);
      });
}

bool Crossing::may_do_by_swap(ElementId e, End end, ElementId f, End f_end) const {
  const std::array<Joint, 2> made{Joint{now(e, other(end)), landing_.drawn(f, f_end)},
                                  Joint{now(f, other(f_end)), landing_.drawn(e, end)}};
  return may_do_(made);
}

/// An end that is drawn inside makes room for one whose conductor leads to the far side.
void Crossing::swap_in(PointId inside) {
  moves_.for_each_end_at(inside, [&](ElementId e, End moves) {
    moves_.for_each_swap(inside, into_.max_cost(), far_side_of(e), [&](ElementId f, End f_end, double cost) {
      if (f != e && is_outside_(now(f, other(f_end))) && may_do_by_swap(e, moves, f, f_end))
        into_.add(swap_fault(e, moves, f, f_end), cost);
    });
  });
}

/// Some wire drawn on the point leads across once it has moved as in a shift, or may do so together with its
/// other end.
bool Crossing::may_lead_across(PointId inside, PointId drawn) const {
  std::array<PointId, 6> landings{on_part_beside(graph_, drawn, -1), on_part_beside(graph_, drawn, 1)};
  std::size_t count = 2;
  for (const int places : {-2, -1, 1, 2}) landings[count++] = point_beside(graph_, drawn, places);
  bool leads_across = false;
  moves_.for_each_end_at(drawn, [&](ElementId e, End moves) {
    const PointId drawn_far = landing_.drawn(e, other(moves)), far = now(e, other(moves));
    const bool both_may_move = graph_.on_one_part(drawn_far, drawn) ||
                               on_part_beside(graph_, drawn_far, -1) != PointId::none ||
                               on_part_beside(graph_, drawn_far, 1) != PointId::none;
    leads_across =
        leads_across || both_may_move || std::any_of(landings.begin(), landings.end(), [&](PointId to) {
          return to != PointId::none &&
                 ((far == inside && is_outside_(to)) || (to == inside && is_outside_(far)));
        });
  });
  return leads_across;
}

/// Shifts of the wires drawn on a point, by which a wire comes to lead from `inside` to the outside.
void Crossing::shift_across(PointId inside, PointId drawn, Shifts& shifts) {
  if (drawn == PointId::none || !may_lead_across(inside, drawn)) return;
  for (const Fault& shift : shifts.of(drawn)) {
    if (costs_.shift(shift) > into_.max_cost()) continue;
    const std::vector<LandedEnd> ends = landed_ends(shift, graph_);
    const auto far_end = [&](const LandedEnd& moved) {
      const auto too = std::find_if(ends.begin(), ends.end(), [&](const LandedEnd& other_moved) {
        return other_moved.conductor == moved.conductor && other_moved.end != moved.end;
      });
      return too != ends.end() ? too->at : now(moved.conductor, other(moved.end));
    };
    const bool crosses = std::any_of(ends.begin(), ends.end(), [&](const LandedEnd& moved) {
      const PointId far = far_end(moved);
      return (far == inside && is_outside_(moved.at)) || (moved.at == inside && is_outside_(far));
    });
    if (!crosses) continue;
    std::vector<Joint> made;
    for (const LandedEnd& moved : ends) made.push_back({far_end(moved), moved.at});
    if (may_do_(made)) into_.add(shift, costs_.shift(shift));
  }
}

void Crossing::close_contacts(PointId inside) {
  for (const ElementId e : graph_.elements_at(inside))
    if (graph_.kind(e) == ElementKind::contact && landing_.can_be_exchanged(e) &&
        in_t_(graph_.other_end(e, inside)) && may_do(inside, graph_.other_end(e, inside)))
      into_.add(contact_fault(e, landing_), costs_.contact());
}

}  // namespace ringtrue
