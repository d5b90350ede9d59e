// Two bounds that need no solver. Below: all current leaves the red net and enters the black net through
// their loads, so the two cuts around them bound the resistance; where no load joins the two nets directly
// the cuts are disjoint and add up (Nash-Williams 1959, from memory). Above: the cheapest series path
// (Rayleigh: the other elements only lower it).
#include "soft_paths.hpp"

#include <algorithm>
#include <queue>
#include <unordered_map>
#include <unordered_set>

#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

namespace {

bool holds(const std::vector<NetId>& nets, NetId net) {
  return std::find(nets.begin(), nets.end(), net) != nets.end();
}

/// Calls `visit(net of a, net of b, interval)` for each load present under the view with an end on the net
/// `at`.
template <class Visit>
void for_each_load(const View& view, NetId at, Visit&& visit) {
  const ConductionGraph& graph = view.graph();
  const auto offer = [&](NetId rest) {
    for (const ElementId e : graph.loads_of_net(rest)) {
      if (!view.is_on(e)) continue;
      const NetId a = view.net(graph.end_a(e)), b = view.net(graph.end_b(e));
      if (a == at || b == at) visit(a, b, view.interval(e));
    }
  };
  if (index(at) < graph.net_count()) return offer(at);
  // A relabelled net may be made of several nets at rest; a load between two of those is met twice, which
  // only lowers the lower bound.
  for (const NetId rest : view.touched_nets()) offer(rest);
}

struct Cut {
  double conductance = 0;  ///< at most this leaves the nets
  bool direct = false;     ///< some load leads straight to the other side
};

Cut cut_around(const View& view, const std::vector<NetId>& nets, const std::vector<NetId>& other) {
  Cut cut;
  for (const NetId net : nets) {
    for_each_load(view, net, [&](NetId a, NetId b, OhmInterval r) {
      const NetId far = a == net ? b : a;
      if (holds(nets, far)) return;
      cut.conductance += 1 / r.lo.value;
      cut.direct = cut.direct || holds(other, far);
    });
  }
  return cut;
}

/// Cheapest series path by the upper values; its sum is infinite where some value is, and `reached` says
/// whether there is any path at all.
struct Series {
  bool reached = false;
  double sum = k_infinite_ohms.value;
};

Series cheapest_series(const View& view, const std::vector<NetId>& from, const std::vector<NetId>& to) {
  using Entry = std::pair<double, NetId>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  std::unordered_map<NetId, double> best;
  for (const NetId net : from) queue.emplace(best[net] = 0, net);
  while (!queue.empty()) {
    const auto [sum, net] = queue.top();
    queue.pop();
    if (holds(to, net)) return {true, sum};
    if (sum > best[net]) continue;
    for_each_load(view, net, [&](NetId a, NetId b, OhmInterval r) {
      const NetId far = a == net ? b : a;
      const double reach = sum + r.hi.value;
      const auto [at, is_new] = best.emplace(far, reach);
      if (!is_new && at->second <= reach) return;
      at->second = reach;
      queue.emplace(reach, far);
    });
  }
  return {};
}

/// Bound of the two cuts around sets of nets that hold the probes' nets. Sets that meet bound nothing.
Ohms bound_of_cuts(const View& view, const std::vector<NetId>& from, const std::vector<NetId>& to) {
  if (std::find_first_of(from.begin(), from.end(), to.begin(), to.end()) != from.end()) return Ohms{0};
  const Cut red = cut_around(view, from, to), black = cut_around(view, to, from);
  const double around_red = 1 / red.conductance, around_black = 1 / black.conductance;
  return Ohms{red.direct ? std::max(around_red, around_black) : around_red + around_black};
}

/// The nets and those beyond loads of at most `most` ohms.
std::vector<NetId> with_loads_up_to(const View& view, std::vector<NetId> nets, Ohms most) {
  std::unordered_set<NetId> known(nets.begin(), nets.end());
  for (std::size_t i = 0; i < nets.size(); ++i) {
    const NetId net = nets[i];
    for_each_load(view, net, [&](NetId a, NetId b, OhmInterval r) {
      const NetId far = a == net ? b : a;
      if (r.lo <= most && known.insert(far).second) nets.push_back(far);
    });
  }
  return nets;
}

/// Beyond what may be next to nothing, a freewheel diode say: the cut then lies behind it.
std::vector<NetId> with_low_loads(const View& view, const std::vector<NetId>& nets) {
  return with_loads_up_to(view, nets, Ohms{0.99});
}

}  // namespace

std::vector<NetId> nets_joined_by_loads(const View& view, NetId net) {
  std::vector<NetId> nets = with_loads_up_to(view, {net}, k_infinite_ohms);
  std::sort(nets.begin(), nets.end());
  return nets;
}

OhmInterval soft_interval(const View& view, const std::vector<NetId>& from, const std::vector<NetId>& to,
                          Ohms enough) {
  Ohms lower = bound_of_cuts(view, from, to);
  if (lower <= enough)
    lower = std::max(lower, bound_of_cuts(view, with_low_loads(view, from), with_low_loads(view, to)));
  if (lower == k_infinite_ohms) return k_open_interval;
  if (lower > enough) return {lower, k_infinite_ohms};
  const Series series = cheapest_series(view, from, to);
  if (!series.reached) return k_open_interval;
  // Joints and conductors on the way count too, as on a hard path.
  return {lower, Ohms{series.sum + 5}};
}

}  // namespace ringtrue
