// Bounds that need no solver. Below: all current leaves the red net and enters the black net through their
// loads, so the two cuts around them bound the resistance; where no load joins the two nets directly the cuts
// are disjoint and add up (Nash-Williams 1959, from memory). Above: any path (Rayleigh: the other elements
// only lower it). Diodes count as conducting both ways in a cut and not at all in a path, so that either
// bound holds whichever way the leads are.
#include "quick_bounds.hpp"

#include <algorithm>
#include <queue>
#include <unordered_map>
#include <unordered_set>

#include "network.hpp"
#include "ringtrue/expect/hard_path.hpp"
#include "ringtrue/expect/load_nets.hpp"

namespace ringtrue {

namespace {

bool holds(const std::vector<NetId>& nets, NetId net) {
  return std::find(nets.begin(), nets.end(), net) != nets.end();
}

struct Cut {
  double most = 0, least = 0;  ///< conductance that leaves the nets, with the lowest and the highest values
  bool direct = false;         ///< some load leads straight to the other side
};

Cut cut_around(const View& view, const std::vector<NetId>& nets, const std::vector<NetId>& other) {
  Cut cut;
  for (const NetId net : nets) {
    for_each_load(view, net, [&](const Load& load) {
      const NetId far = load.a == net ? load.b : load.a;
      if (holds(nets, far)) return;
      cut.most += 1 / load.ohms.lo.value;
      cut.least += 1 / load.ohms.hi.value;
      cut.direct = cut.direct || holds(other, far);
    });
  }
  return cut;
}

/// The least that the two ends can be: cuts around sets of nets that hold the probes' nets. Sets that meet
/// bound nothing.
std::pair<Ohms, Ohms> least_by_cuts(const View& view, const std::vector<NetId>& from,
                                    const std::vector<NetId>& to) {
  if (std::find_first_of(from.begin(), from.end(), to.begin(), to.end()) != from.end())
    return {Ohms{0}, Ohms{0}};
  const Cut red = cut_around(view, from, to), black = cut_around(view, to, from);
  const auto together = [&](double x, double y) {
    return Ohms{red.direct ? std::max(1 / x, 1 / y) : 1 / x + 1 / y};
  };
  return {together(red.most, black.most), together(red.least, black.least)};
}

/// The nets and those beyond loads of at most `most` ohms.
std::vector<NetId> with_loads_up_to(const View& view, std::vector<NetId> nets, Ohms most) {
  std::unordered_set<NetId> known(nets.begin(), nets.end());
  for (std::size_t i = 0; i < nets.size(); ++i) {
    const NetId net = nets[i];
    for_each_load(view, net, [&](const Load& load) {
      const NetId far = load.a == net ? load.b : load.a;
      if (load.ohms.lo <= most && known.insert(far).second) nets.push_back(far);
    });
  }
  return nets;
}

/// Beyond what may be next to nothing, a freewheel diode say: the cut then lies behind it.
std::vector<NetId> with_low_loads(const View& view, const std::vector<NetId>& nets) {
  return with_loads_up_to(view, nets, Ohms{0.99});
}

enum class Values : std::uint8_t { lowest, highest };

/// At the lowest values no way through the copper of the net has more.
double least_through(const View& view, NetId net) {
  return view.net_has_least_ohms(net) ? view.stated_ohms_of_net(net).value : 0;
}

/// Least sum over the paths from one set of nets to the other; with the highest values, what the drawing
/// states of the copper of the nets on the way is added. Infinite where only diodes lead across, or nothing.
double least_sum(const View& view, const ProbedNets& nets, Values values) {
  using Entry = std::pair<double, NetId>;
  const auto copper = [&](NetId net) {
    return values == Values::lowest ? least_through(view, net) : view.stated_ohms_of_net(net).value;
  };
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  std::unordered_map<NetId, double> best;
  for (const NetId net : nets.from) queue.emplace(best[net] = copper(net), net);
  while (!queue.empty()) {
    const auto [sum, net] = queue.top();
    queue.pop();
    if (holds(nets.to, net)) return sum;
    if (sum > best[net]) continue;
    for_each_load(view, net, [&, net = net, sum = sum](const Load& load) {
      const NetId far = load.a == net ? load.b : load.a;
      const double ohms = (values == Values::lowest ? load.ohms.lo : load.ohms.hi).value;
      if (ohms == k_infinite_ohms.value || view.graph().is_diode(load.element)) return;
      const double reach = sum + ohms + copper(far);
      const auto [at, is_new] = best.emplace(far, reach);
      if (!is_new && at->second <= reach) return;
      at->second = reach;
      queue.emplace(reach, far);
    });
  }
  return k_infinite_ohms.value;
}

/// The loads that lead straight from one set of nets to the other, in parallel; diodes left out.
double direct_loads(const View& view, const ProbedNets& nets) {
  double siemens = 0, copper = 0;
  for (const auto& probed : {nets.from, nets.to})
    for (const NetId net : probed) copper += least_through(view, net);
  for (const NetId net : nets.from)
    for_each_load(view, net, [&](const Load& load) {
      if (holds(nets.to, load.a == net ? load.b : load.a) && !view.graph().is_diode(load.element))
        siemens += 1 / load.ohms.lo.value;
    });
  return copper + 1 / siemens;
}

/// The lower end as well as the upper one is at most so much.
QuickBounds at_most(double lo, double hi) { return {{Ohms{0}, Ohms{lo}}, {Ohms{0}, Ohms{hi}}}; }

}  // namespace

void QuickBounds::narrow(const QuickBounds& other) {
  lo = {std::max(lo.lo, other.lo.lo), std::min(lo.hi, other.lo.hi)};
  hi = {std::max(hi.lo, other.hi.lo), std::min(hi.hi, other.hi.hi)};
}

ProbedNets::ProbedNets(const View& view, const Probing& reading) {
  const auto add = [&](std::vector<NetId>& nets, PointId point, bool either_side) {
    nets.push_back(view.net(point));
    if (!either_side) return;
    const NetId other = view.net(view.graph().netlist().points.other_side(point));
    if (other != nets.front()) nets.push_back(other);
  };
  add(from, reading.from, reading.from_either_side);
  add(to, reading.to, reading.to_either_side);
}

bool ProbedNets::have_one_in_common() const {
  return std::find_first_of(from.begin(), from.end(), to.begin(), to.end()) != from.end();
}

std::vector<NetId> nets_joined_by_loads(const View& view, NetId net) {
  std::vector<NetId> nets = with_loads_up_to(view, {net}, k_infinite_ohms);
  std::sort(nets.begin(), nets.end());
  return nets;
}

std::vector<NetId> way_through_loads(const View& view, const std::vector<NetId>& from,
                                     const std::vector<NetId>& to, Ohms most) {
  struct Reached {
    double sum;
    NetId before;
  };
  using Entry = std::pair<double, NetId>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
  std::unordered_map<NetId, Reached> best;
  for (const NetId net : from) {
    best[net] = {least_through(view, net), NetId::none};
    queue.emplace(best[net].sum, net);
  }
  while (!queue.empty()) {
    const auto [sum, net] = queue.top();
    queue.pop();
    if (holds(to, net)) {
      std::vector<NetId> way;
      for (NetId at = net; at != NetId::none; at = best[at].before) way.push_back(at);
      return way;
    }
    if (sum > best[net].sum) continue;
    for_each_load(view, net, [&, net = net, sum = sum](const Load& load) {
      const NetId far = load.a == net ? load.b : load.a;
      const double reach = sum + load.ohms.lo.value + least_through(view, far);
      if (reach > most.value || view.graph().is_diode(load.element)) return;
      const auto [at, is_new] = best.emplace(far, Reached{reach, net});
      if (!is_new && at->second.sum <= reach) return;
      at->second = {reach, net};
      queue.emplace(reach, far);
    });
  }
  return {};
}

QuickBounds bounds_of_cuts(const View& view, const ProbedNets& nets) {
  const auto near = least_by_cuts(view, nets.from, nets.to);
  const auto behind = least_by_cuts(view, with_low_loads(view, nets.from), with_low_loads(view, nets.to));
  return {{std::max(near.first, behind.first), k_infinite_ohms},
          {std::max(near.second, behind.second), k_infinite_ohms}};
}

QuickBounds bounds_of_small_side(const View& view, const ProbedNets& nets) {
  const auto loads = [&](const std::vector<NetId>& probed) {
    std::size_t count = 0;
    for (const NetId net : probed) count += view.loads_of_net(net).size();
    return count;
  };
  const bool from_is_small = loads(nets.from) <= loads(nets.to);
  const std::vector<NetId>& small = from_is_small ? nets.from : nets.to;
  const std::vector<NetId>& large = from_is_small ? nets.to : nets.from;
  const Cut cut = cut_around(view, small, large);
  QuickBounds bounds;
  bounds.lo.lo = Ohms{1 / cut.most};
  bounds.hi.lo = Ohms{1 / cut.least};
  for (const NetId net : small)
    for_each_load(view, net, [&](const Load& load) {
      if (!holds(large, load.a == net ? load.b : load.a)) return;
      // A diode lets current through from its anode, load.a, if that is on the red net.
      if (view.graph().is_diode(load.element) && !holds(nets.from, load.a)) return;
      const double copper = least_through(view, load.a) + least_through(view, load.b);
      bounds.lo.hi = std::min(bounds.lo.hi, Ohms{load.ohms.lo.value + copper});
    });
  return bounds;
}

std::unordered_set<NetId> nets_within_reach(const View& view, const std::vector<NetId>& from) {
  std::unordered_set<NetId> known(from.begin(), from.end());
  std::vector<NetId> queue(from);
  while (!queue.empty()) {
    const NetId net = queue.back();
    queue.pop_back();
    for_each_load(view, net, [&](const Load& load) {
      const NetId far = load.a == net ? load.b : load.a;
      if (load.ohms.hi != k_infinite_ohms && known.insert(far).second) queue.push_back(far);
    });
  }
  return known;
}

QuickBounds bounds_of_reach(const View& view, const ProbedNets& nets) {
  QuickBounds bounds;
  const std::unordered_set<NetId> known = nets_within_reach(view, nets.from);
  const bool reached =
      std::any_of(nets.to.begin(), nets.to.end(), [&](NetId net) { return known.count(net) != 0; });
  if (!reached) bounds.hi.lo = k_infinite_ohms;
  return bounds;
}

QuickBounds bounds_of_series(const View& view, const ProbedNets& nets) {
  return at_most(std::min(least_sum(view, nets, Values::lowest), direct_loads(view, nets)),
                 least_sum(view, nets, Values::highest) + k_default_path_ohms);
}

QuickBounds bounds_of_net_network(const View& view, const ProbedNets& nets) {
  bool copper_is_free = false;
  const Network network = network_of_nets(view, nets, copper_is_free);
  const Ohms lo = lower_end(network);
  return {{lo, copper_is_free ? lo : k_infinite_ohms}, {lo, k_infinite_ohms}};
}

OhmInterval body_of(const View& view, PointId side) {
  OhmInterval body = k_open_interval;
  view.for_each_hard(side, [&](const View::Edge& edge) {
    if (edge.to == view.graph().netlist().points.other_side(side)) body = view.interval(edge);
  });
  return body;
}

Ohms unknown_sides(const View& view, const Probing& reading) {
  double sum = 0;
  const auto add = [&](PointId side, bool either_side) {
    if (!either_side) return;
    const OhmInterval body = body_of(view, side);
    sum += (body.is_open() ? k_joint_interval : body).hi.value;
  };
  add(reading.from, reading.from_either_side);
  add(reading.to, reading.to_either_side);
  return Ohms{sum};
}

QuickBounds bounds_of_net(const View& view, NetId net) {
  const double stated = view.stated_ohms_of_net(net).value;
  return at_most(stated, stated + k_default_path_ohms);
}

QuickBounds bounds_of_hard_path(const View& view, const Probing& reading, Counting counting) {
  double lowest = 0, stated = 0, defaulted = 0;
  const auto path = hard_path(view, reading);
  for (const View::Edge& edge : path->edges) {
    const OhmInterval ohms = view.interval(edge);
    lowest += ohms.lo.value;
    stated += view.stated_ohms(edge).value;
    // A wrong value states that there is no upper one.
    if (view.stated_ohms(edge) < ohms.hi) defaulted += ohms.hi.value - view.stated_ohms(edge).value;
  }
  if (counting == Counting::limited) defaulted = std::min(defaulted, k_default_path_ohms);
  return at_most(lowest, stated + defaulted + unknown_sides(view, reading).value);
}

}  // namespace ringtrue
