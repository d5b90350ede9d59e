// Rayleigh's monotonicity law bounds the resistance: with every element at its lowest value it's at its
// lowest, with every element at its highest at its highest (Doyle and Snell 1984, section 1.4).
//
// Diodes. A diode counts as some resistance from next to nothing up, whatever its drop, as long as its
// current flows from anode to cathode; its current never flows the other way. So the lower end is the least
// of the sum of r * f^2 over all flows f of one ampere that no diode carries backwards, with the lowest
// values r: any true current is such a flow, and the true resistance is at least its sum. Raising a value
// raises the least.
// - The meter and the network carry a circulation in which no diode's share is negative, so a diode has one
//   only if it lies on a directed cycle: both its pins in one strongly connected component of the graph in
//   which a diode leads from anode to cathode, all else both ways, and the meter from black to red. Others
//   are left out.
// - Of the rest, a set is left out for which the potentials phi of what remains fall from no anode to its
//   cathode. That proves the bound for any such set: let f be a true current; 1 = sum of f * drop of phi over
//   all elements, those left out add nothing positive, and by Cauchy and Schwarz 1 <= (sum of r * f^2) * (sum
//   of drop^2 / r) over the others. The set is found by turning over the diodes that are wrong, which ends at
//   the least (a linear complementarity problem; Murty 1974, from memory, for the order of last resort).
#include "network.hpp"

#include <algorithm>
#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/strong_components.hpp>
#include <unordered_map>

#include "ringtrue/base/classes.hpp"
#include "ringtrue/expect/explain.hpp"

namespace ringtrue {

namespace {

/// Numbers given in order of arrival.
template <class Id>
class Numbers {
 public:
  std::uint32_t of(Id id) {
    const auto [at, is_new] = number_.emplace(id, static_cast<std::uint32_t>(ids_.size()));
    if (is_new) ids_.push_back(id);
    return at->second;
  }
  [[nodiscard]] std::uint32_t find(Id id) const {
    const auto at = number_.find(id);
    return at == number_.end() ? count() : at->second;
  }
  [[nodiscard]] std::uint32_t count() const { return static_cast<std::uint32_t>(ids_.size()); }
  [[nodiscard]] Id operator[](std::uint32_t number) const { return ids_[number]; }
  [[nodiscard]] std::vector<Id> take() { return std::move(ids_); }

 private:
  std::unordered_map<Id, std::uint32_t> number_;
  std::vector<Id> ids_;
};

// --- diodes -----------------------------------------------------------------------------------------------

/// What is joined otherwise than by diodes is strongly connected, so that only the diodes between such parts
/// are left to look at: mostly none.
void erase_off_every_cycle(Network& network) {
  Classes parts(network.nodes);
  for (const Network::Branch& branch : network.branches)
    if (!branch.is_diode) parts.join(branch.a, branch.b);
  Numbers<std::uint32_t> number;
  std::vector<std::pair<std::uint32_t, std::uint32_t>> ways;
  const auto add = [&](std::uint32_t a, std::uint32_t b) {
    if (parts.of(a) != parts.of(b)) ways.emplace_back(number.of(parts.of(a)), number.of(parts.of(b)));
  };
  for (const Network::Branch& branch : network.branches)
    if (branch.is_diode) add(branch.a, branch.b);
  if (ways.empty()) return;
  add(network.black, Network::k_red);
  boost::adjacency_list<boost::vecS, boost::vecS, boost::directedS> graph(ways.begin(), ways.end(),
                                                                          number.count());
  std::vector<std::uint32_t> component(number.count());
  boost::strong_components(
      graph, boost::make_iterator_property_map(component.begin(), get(boost::vertex_index, graph)));
  const auto component_of = [&](std::uint32_t node) { return component[number.find(parts.of(node))]; };
  std::erase_if(network.branches, [&](const Network::Branch& branch) {
    return branch.is_diode && parts.of(branch.a) != parts.of(branch.b) &&
           component_of(branch.a) != component_of(branch.b);
  });
}

void leave_out_blocked_diodes(Network& network) {
  const bool has_diodes = std::any_of(network.branches.begin(), network.branches.end(),
                                      [](const Network::Branch& branch) { return branch.is_diode; });
  if (has_diodes && network.black != network.nodes) erase_off_every_cycle(network);
}

// --- gathering --------------------------------------------------------------------------------------------

class PointGatherer {
 public:
  explicit PointGatherer(const View& view) : view_(view), points_(view.graph().netlist().points) {}

  Network gather(const Probing& reading) {
    numbers_.of(reading.from);
    network_.unknown_sides = unknown_sides(view_, reading);
    if (reading.from_either_side) take_body_as_sound(reading.from);
    for (std::uint32_t node = 0; node < numbers_.count(); ++node) {
      const PointId p = numbers_[node];
      view_.for_each_hard(p, [&](const View::Edge& edge) { follow(node, edge, true); });
      view_.for_each_load(p, [&](const View::Edge& edge) { follow(node, edge, false); });
      if (reading.to_either_side && is_first_of(node, reading.to)) take_body_as_sound(reading.to);
    }
    network_.black = numbers_.find(reading.to);
    network_.nodes = numbers_.count();
    network_.points = numbers_.take();
    return std::move(network_);
  }

 private:
  /// A bare terminal name takes the body as conducting; the lead is on either side of it.
  void take_body_as_sound(PointId side) {
    // Where the body conducts anyhow, only its lower value is bridged: the lead may be on the nearer side.
    const OhmInterval own = body_of(view_, side);
    if (!own.is_open() && own.lo == Ohms{0}) return;
    Network::Branch body;
    body.a = numbers_.of(side), body.b = numbers_.of(points_.other_side(side));
    body.edge.added = k_assumed_body;
    body.ohms = own.is_open() ? k_joint_interval : OhmInterval{Ohms{0}, k_infinite_ohms};
    if (!own.is_open()) body.stated = k_infinite_ohms;
    network_.branches.push_back(body);
  }
  /// The first of the two sides that the search arrives at.
  [[nodiscard]] bool is_first_of(std::uint32_t node, PointId side) const {
    const PointId p = numbers_[node], other = points_.other_side(side);
    return (p == side || p == other) && numbers_.find(p == side ? other : side) > node;
  }

  void follow(std::uint32_t node, const View::Edge& edge, bool is_hard) {
    const OhmInterval ohms = view_.interval(edge);
    // Each element is met from both ends and taken from the first.
    if (ohms.is_open() || edge.to == numbers_[node]) return;
    const std::uint32_t far = numbers_.of(edge.to);
    if (far < node) return;
    Network::Branch branch{node,  far,    edge, ohms, is_hard ? view_.stated_ohms(edge) : ohms.hi,
                           false, is_hard};
    branch.is_diode = edge.element != ElementId::none && view_.graph().is_diode(edge.element);
    if (branch.is_diode && view_.end_a(edge.element) != numbers_[node]) std::swap(branch.a, branch.b);
    network_.branches.push_back(branch);
  }

  const View& view_;
  const PointTable& points_;
  Numbers<PointId> numbers_;
  Network network_;
};

}  // namespace

Network network_of_points(const View& view, const Probing& reading) {
  Network network = PointGatherer(view).gather(reading);
  leave_out_blocked_diodes(network);
  return network;
}

Network network_with_all_diodes(const View& view, const ProbedNets& nets) {
  Network network;
  Numbers<NetId> numbers;
  // The two nets under one lead are joined, as the body of a bare name is taken to conduct.
  const auto join = [&](const std::vector<NetId>& probed) {
    for (const NetId net : probed) {
      Network::Branch body;
      body.a = numbers.of(probed.front()), body.b = numbers.of(net), body.ohms = {Ohms{0}, Ohms{0}};
      if (body.a != body.b) network.branches.push_back(body);
    }
  };
  join(nets.from);
  join(nets.to);
  for (std::uint32_t node = 0; node < numbers.count(); ++node)
    for_each_load(view, numbers[node], [&](const Load& load) {
      if (load.ohms.is_open()) return;
      const std::uint32_t a = numbers.of(load.a), b = numbers.of(load.b);
      // Each load is met from both its nets and taken from the first.
      if (a == b || std::min(a, b) < node) return;
      network.branches.push_back({a,
                                  b,
                                  {load.element, 0, PointId::none},
                                  load.ohms,
                                  load.ohms.hi,
                                  view.graph().is_diode(load.element),
                                  false});
    });
  network.nodes = numbers.count();
  network.black = numbers.find(nets.to.front());
  network.nets = numbers.take();
  return network;
}

Network network_of_nets(const View& view, const ProbedNets& nets, bool& copper_is_free) {
  Network network = network_with_all_diodes(view, nets);
  copper_is_free = std::none_of(network.nets.begin(), network.nets.end(),
                                [&](NetId net) { return view.net_has_least_ohms(net); });
  leave_out_blocked_diodes(network);
  return network;
}

namespace {

template <class Value>
EffectiveResistance solve(const Network& network, Value&& value) {
  if (network.black == network.nodes) return {k_open_interval, {}};
  std::vector<Resistor> resistors;
  resistors.reserve(network.branches.size());
  for (const Network::Branch& branch : network.branches)
    resistors.push_back({branch.a, branch.b, value(branch).value});
  return effective_resistance(network.nodes, resistors, Network::k_red, network.black);
}

/// Finds which diodes carry current at the lowest values.
class LowestSolution {
 public:
  explicit LowestSolution(const Network& network) : network_(network), off_(network.branches.size(), 0) {
    for (std::uint32_t i = 0; i < network.branches.size(); ++i)
      if (network.branches[i].is_diode) diodes_.push_back(i);
  }

  EffectiveResistance run() {
    guess();
    // All wrong ones at once mostly settles it in a step or two; then one by one in a fixed order; and if
    // even that doesn't end, only those whose being left out isn't proven come back.
    const std::size_t all_at_once = 8, one_by_one = all_at_once + 4 * diodes_.size();
    for (std::size_t step = 0;; ++step) {
      EffectiveResistance found = with_current_set();
      const bool only_back = step >= one_by_one;
      const std::vector<std::uint32_t> wrong = wrong_diodes(found, only_back);
      if (wrong.empty()) return without_what_diodes_add(std::move(found));
      const std::size_t turned = step < all_at_once || only_back ? wrong.size() : 1;
      for (std::size_t i = 0; i < turned; ++i) off_[wrong[i]] = off_[wrong[i]] == 0 ? 1 : 0;
    }
  }

 private:
  /// What is no more than the diodes' own least counts as nothing.
  [[nodiscard]] EffectiveResistance without_what_diodes_add(EffectiveResistance found) const {
    const double least = k_least_diode_ohms.value * static_cast<double>(diodes_.size());
    if (found.bounds.lo.value <= least) found.bounds.lo = Ohms{0};
    return found;
  }

  /// A diode whose cathode the red probe reaches, or whose anode the black one does, over nothing but
  /// elements that may have 0 ohms is reversed.
  void guess() {
    if (diodes_.empty() || network_.black == network_.nodes) return;
    Classes joined(network_.nodes);
    for (const Network::Branch& branch : network_.branches)
      if (!branch.is_diode && branch.ohms.lo == Ohms{0}) joined.join(branch.a, branch.b);
    const std::uint32_t red = joined.of(Network::k_red), black = joined.of(network_.black);
    for (const std::uint32_t i : diodes_) {
      const Network::Branch& diode = network_.branches[i];
      off_[i] = joined.of(diode.b) == red || joined.of(diode.a) == black ? 1 : 0;
    }
  }

  [[nodiscard]] EffectiveResistance with_current_set() const {
    return solve(network_, [this](const Network::Branch& branch) {
      if (!branch.is_diode) return branch.ohms.lo;
      const auto i = static_cast<std::size_t>(&branch - network_.branches.data());
      return off_[i] != 0 ? k_infinite_ohms : std::max(branch.ohms.lo, k_least_diode_ohms);
    });
  }

  /// Diodes left out that would conduct, and, unless only the former are asked for, ones that conduct
  /// backwards.
  [[nodiscard]] std::vector<std::uint32_t> wrong_diodes(const EffectiveResistance& found,
                                                        bool only_back) const {
    std::vector<std::uint32_t> wrong;
    if (found.potential.empty()) return wrong;
    constexpr double k_tie = 1e-11;
    for (const std::uint32_t i : diodes_) {
      const Network::Branch& diode = network_.branches[i];
      const double drop = found.potential[diode.a] - found.potential[diode.b];
      if (off_[i] != 0 ? drop > k_tie : drop < -k_tie && !only_back) wrong.push_back(i);
    }
    return wrong;
  }

  const Network& network_;
  std::vector<std::uint32_t> diodes_;
  std::vector<std::uint8_t> off_;  ///< by branch
};

}  // namespace

EffectiveResistance lowest_potentials(const Network& network) { return LowestSolution(network).run(); }

Ohms lower_end(const Network& network) { return lowest_potentials(network).bounds.lo; }

Ohms upper_end(const Network& network, Counting counting) {
  const Ohms solved = solve(network, [](const Network::Branch& branch) { return branch.ohms.hi; }).bounds.hi;
  const Ohms whole{solved.value + network.unknown_sides.value};
  if (counting == Counting::whole || whole.value <= k_default_path_ohms) return whole;
  // Any flow bounds from above; the defaults of one path are at most so much, hence those of a flow are.
  const Ohms stated = solve(network, [](const Network::Branch& branch) { return branch.stated; }).bounds.hi;
  return std::min(whole, Ohms{stated.value + network.unknown_sides.value + k_default_path_ohms});
}

}  // namespace ringtrue
