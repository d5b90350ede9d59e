#pragma once
#include <functional>

#include "costs.hpp"
#include "far_side.hpp"
#include "landing.hpp"

namespace ringtrue {

using Membership = std::function<bool(PointId)>;

[[nodiscard]] inline End other(End end) { return end == End::a ? End::b : End::a; }

/// Where a conductor end can have gone, up to a cost.
class Moves {
 public:
  Moves(const Landing& landing, const Costs& costs)
      : landing_(landing), costs_(costs), graph_(landing.graph()) {}

  /// Calls `visit(point, cost)` for the points where an end drawn on `drawn` can have been landed, one per
  /// block; only those that `wanted` holds. Far away only those on the far side, if there is one.
  template <class Visit>
  void for_each_landing(PointId drawn, double max_cost, const Membership& wanted, const FarSide* far,
                        Visit&& visit) const;
  /// Calls `visit(conductor, end, cost)` for the ends on other blocks with which it can have been exchanged.
  /// Far away only those of conductors at the far side, if there is one.
  template <class Visit>
  void for_each_swap(PointId drawn, double max_cost, const FarSide* far, Visit&& visit) const;
  /// Calls `visit(conductor, end)` for the movable ends drawn on the point.
  template <class Visit>
  void for_each_end_at(PointId p, Visit&& visit) const;

 private:
  const Landing& landing_;
  const Costs& costs_;
  const ConductionGraph& graph_;
};

template <class Visit>
void Moves::for_each_end_at(PointId p, Visit&& visit) const {
  for (const ElementId e : graph_.elements_at(p)) {
    if (!landing_.is_movable(e)) continue;
    for (const End end : {End::a, End::b})
      if (landing_.drawn(e, end) == p) visit(e, end);
  }
}

template <class Visit>
void Moves::for_each_landing(PointId drawn, double max_cost, const Membership& wanted, const FarSide* far,
                             Visit&& visit) const {
  const std::uint32_t own = landing_.block(drawn);
  const double near_cost = costs_.miswire(drawn, Nearness::neighbour);
  if (near_cost <= max_cost)
    for (const PointId p : landing_.neighbours(drawn))
      if (p != PointId::none && landing_.block(p) != own && wanted(p) &&
          landing_.landing(drawn, landing_.block(p)) == p)
        visit(p, near_cost);
  if (costs_.least_miswire(Nearness::same_part) <= max_cost) {
    const double part_cost = costs_.miswire(drawn, Nearness::same_part);
    if (part_cost <= max_cost)
      for (const Landing::BlockOnPart& at : landing_.blocks_on_part(drawn))
        if (at.block != own && wanted(at.first) && landing_.landing(drawn, at.block) == at.first &&
            landing_.nearness(drawn, at.first) == Nearness::same_part)
          visit(at.first, part_cost);
  }
  const double far_cost = costs_.miswire(drawn, Nearness::elsewhere);
  if (far_cost > max_cost) return;
  FarSide::for_each_block(far, landing_, [&](std::uint32_t block) {
    const PointId p = landing_.first_of_block(block);
    if (block != own && wanted(p) && landing_.landing(drawn, block) == p &&
        landing_.nearness(drawn, p) == Nearness::elsewhere)
      visit(p, far_cost);
  });
}

template <class Visit>
void Moves::for_each_swap(PointId drawn, double max_cost, const FarSide* far, Visit&& visit) const {
  const std::uint32_t own = landing_.block(drawn);
  const auto offer_at = [&](PointId p, double cost) {
    if (landing_.block(p) != own) for_each_end_at(p, [&](ElementId f, End end) { visit(f, end, cost); });
  };
  const double near_cost = costs_.swap(drawn, Nearness::neighbour);
  const auto& near = landing_.neighbours(drawn);
  if (near_cost <= max_cost)
    for (const PointId p : near)
      if (p != PointId::none) offer_at(p, near_cost);
  const auto is_near = [&](PointId p) { return p == near[0] || p == near[1]; };
  if (costs_.least_swap(Nearness::same_part) <= max_cost) {
    const double part_cost = costs_.swap(drawn, Nearness::same_part);
    if (part_cost <= max_cost)
      for (const PointId p : landing_.points_beside(drawn))
        if (!is_near(p)) offer_at(p, part_cost);
  }
  const double far_cost = costs_.swap(drawn, Nearness::elsewhere);
  if (far_cost > max_cost) return;
  FarSide::for_each_conductor(far, landing_, [&](ElementId f) {
    for (const End end : {End::a, End::b}) {
      const PointId p = landing_.drawn(f, end);
      if (landing_.block(p) != own && landing_.nearness(drawn, p) == Nearness::elsewhere)
        visit(f, end, far_cost);
    }
  });
}

}  // namespace ringtrue
