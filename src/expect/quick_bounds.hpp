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
  const ConductionGraph& graph = view.graph();
  const auto offer = [&](ElementId e) {
    if (!view.is_on(e)) return;
    const NetId a = view.net(view.end_a(e)), b = view.net(view.end_b(e));
    if (a == at || b == at) visit(Load{e, a, b, view.interval(e)});
  };
  if (index(at) < graph.net_count()) {
    for (const ElementId e : graph.loads_of_net(at)) offer(e);
    return;
  }
  // A relabelled net may be made of several nets at rest; a load between two of those is listed in both.
  for (const NetId rest : view.touched_nets())
    for (const ElementId e : graph.loads_of_net(rest)) {
      const NetId a = graph.net_at_rest(graph.end_a(e)), b = graph.net_at_rest(graph.end_b(e));
      if (rest == std::min(a, b) || !view.is_touched(std::min(a, b))) offer(e);
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
