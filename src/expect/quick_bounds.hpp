#pragma once
#include <vector>

#include "ringtrue/base/interval.hpp"
#include "ringtrue/expect/judge.hpp"
#include "ringtrue/graph/view.hpp"

namespace ringtrue {

struct Load {
  ElementId element;
  NetId a, b;
  OhmInterval ohms;
};

/// Calls `visit(load)` for each load present under the view with an end on the net `at`, once.
template <class Visit>
void for_each_load(const View& view, NetId at, Visit&& visit) {
  for (const ElementId e : view.loads_of_net(at)) {
    if (!view.is_on(e)) continue;
    const NetId a = view.net(view.end_a(e)), b = view.net(view.end_b(e));
    visit(Load{e, a, b, view.interval(e)});
  }
}

/// Where the two ends of the interval of `expected_resistance` lie, found without solving a network.
struct QuickBounds {
  OhmInterval lo, hi;  ///< of the lower end and of the upper end

  void narrow(const QuickBounds& other);
};

/// The terminal's body between the two sides of a bare name; open where it doesn't conduct under the view.
[[nodiscard]] OhmInterval body_of(const View& view, PointId side);
/// What the side that a bare name doesn't tell may add to the upper end: its body, for each such lead.
[[nodiscard]] Ohms unknown_sides(const View& view, const Probing& reading);

/// Nets under the two leads: two under one where a bare terminal name leaves the side open and its body does
/// not conduct.
struct ProbedNets {
  std::vector<NetId> from, to;

  ProbedNets(const View& view, const Probing& reading);
  [[nodiscard]] bool have_one_in_common() const;
};

/// Bounds by the cut around the probed net with fewer loads, and by the loads straight to the other. Cost:
/// those loads.
[[nodiscard]] QuickBounds bounds_of_small_side(const View& view, const ProbedNets& nets);
/// Whether loads that have an upper limit lead across at all. Cost: the loads of the nets that they join.
[[nodiscard]] QuickBounds bounds_of_reach(const View& view, const ProbedNets& nets);
/// Bounds by the cuts around the probed nets. Cost: their loads.
[[nodiscard]] QuickBounds bounds_of_cuts(const View& view, const ProbedNets& nets);
/// Bounds by the best path through loads, for a buzzer. Cost: the loads of the nets that it passes.
[[nodiscard]] QuickBounds bounds_of_series(const View& view, const ProbedNets& nets);

/// Bounds by the network of nets and loads: the lower end itself, as long as all copper may have 0 ohms.
/// Cost: one sparse solve of everything that loads join to the nets.
[[nodiscard]] QuickBounds bounds_of_net_network(const View& view, const ProbedNets& nets);

/// Bounds by the sum of what the drawing states of the probes' common net, for a buzzer. Constant cost.
[[nodiscard]] QuickBounds bounds_of_net(const View& view, NetId net);
/// Bounds by the hard path with the fewest elements. Cost: the net.
[[nodiscard]] QuickBounds bounds_of_hard_path(const View& view, const Probing& reading, Counting counting);

}  // namespace ringtrue
