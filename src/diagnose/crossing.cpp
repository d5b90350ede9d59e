#include "crossing.hpp"

#include <algorithm>

#include "ringtrue/graph/rows.hpp"

namespace ringtrue {

void Crossing::from(const std::vector<PointId>& inside) {
  join_across(inside);
  const auto go_over = [this](ElementId e, End stays) {
    move_out(e, stays);
    swap_out(e, stays);
  };
  for (const PointId p : inside) {
    if (into_.is_full()) return;
    moves_.for_each_end_at(p, [&](ElementId e, End stays) {
      if (now(e, stays) == p) go_over(e, stays);
    });
    move_in(p);
    swap_in(p);
    close_contacts(p);
  }
  for_each_moved_end(inside, [&](ElementId e, End stays, PointId) { go_over(e, stays); });
  move_in_from_anywhere(inside);
}

void Crossing::shifts_from(const std::vector<PointId>& inside) {
  if (costs_.least_shift() > into_.max_cost()) return;
  for (const PointId p : inside) {
    if (into_.is_full()) return;
    moves_.for_each_end_at(p, [&](ElementId e, End stays) {
      if (now(e, stays) == p) shift_across(p, landing_.drawn(e, other(stays)));
    });
    for (const int places : {-2, -1, 1, 2}) shift_across(p, point_beside(graph_, p, places));
    for (const int numbers : {-1, 1}) shift_across(p, on_part_beside(graph_, p, numbers));
  }
  for_each_moved_end(
      inside, [&](ElementId e, End stays, PointId at) { shift_across(at, landing_.drawn(e, other(stays))); });
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
  const auto offer = [&](const Landing::Joint& joint) {
    if ((is_inside(joint.p) && in_t_(joint.q)) || (is_inside(joint.q) && in_t_(joint.p)))
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
    for (std::uint32_t block = 0; block < landing_.block_count(); ++block) {
      while (next != near.end() && next->first < block) ++next;
      if (block == mine || (next != near.end() && next->first == block)) continue;
      offer({landing_.first_of_block(mine), landing_.first_of_block(block)});
    }
  }
}

/// A conductor with one end inside: its other end goes over.
void Crossing::move_out(ElementId e, End stays) {
  const End moves = other(stays);
  moves_.for_each_landing(landing_.drawn(e, moves), into_.max_cost(), in_t_, [&](PointId found, double cost) {
    into_.add(miswire_fault(e, moves, found), cost);
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
      if (in_t_(now(e, other(moves)))) into_.add(miswire_fault(e, moves, inside), cost);
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
  for (std::uint32_t i = 0; i < graph_.conductor_count() && !into_.is_full(); ++i) {
    const ElementId e{i};
    if (!landing_.is_movable(e)) continue;
    for (const End moves : {End::a, End::b}) {
      if (!in_t_(now(e, other(moves)))) continue;
      const PointId drawn = landing_.drawn(e, moves);
      for (const PointId found : landings)
        if (landing_.block(found) != landing_.block(drawn) &&
            landing_.nearness(drawn, found) == Nearness::elsewhere &&
            landing_.landing(drawn, landing_.block(found)) == found)
          into_.add(miswire_fault(e, moves, found), far_cost);
    }
  }
}

/// The conductor that has one end inside takes its other end to the place of an end on the far side.
void Crossing::swap_out(ElementId e, End stays) {
  const End moves = other(stays);
  moves_.for_each_swap(landing_.drawn(e, moves), into_.max_cost(), [&](ElementId f, End f_end, double cost) {
    if (f != e && in_t_(landing_.drawn(f, f_end))) into_.add(swap_fault(e, moves, f, f_end), cost);
  });
}

/// An end that is drawn inside makes room for one whose conductor leads to the far side.
void Crossing::swap_in(PointId inside) {
  moves_.for_each_end_at(inside, [&](ElementId e, End moves) {
    moves_.for_each_swap(inside, into_.max_cost(), [&](ElementId f, End f_end, double cost) {
      if (f != e && in_t_(now(f, other(f_end)))) into_.add(swap_fault(e, moves, f, f_end), cost);
    });
  });
}

/// Shifts of the wires drawn on a point, by which a wire comes to lead from `inside` to the outside.
void Crossing::shift_across(PointId inside, PointId drawn) {
  if (drawn == PointId::none) return;
  for (const Fault& shift : landing_.shifts_of(drawn)) {
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
    if (crosses) into_.add(shift, costs_.shift(shift));
  }
}

void Crossing::close_contacts(PointId inside) {
  for (const ElementId e : graph_.elements_at(inside))
    if (graph_.kind(e) == ElementKind::contact && landing_.can_be_exchanged(e) &&
        in_t_(graph_.other_end(e, inside)))
      into_.add(contact_fault(e, landing_), costs_.contact());
}

}  // namespace ringtrue
