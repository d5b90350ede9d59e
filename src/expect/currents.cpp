#include "ringtrue/expect/currents.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <unordered_map>

#include "network.hpp"
#include "quick_bounds.hpp"
#include "ringtrue/expect/effective_resistance.hpp"
#include "ringtrue/expect/hard_path.hpp"
#include "ways.hpp"

namespace ringtrue {

std::vector<ElementId> elements_that_hold_down(const View& view, const Probing& reading, Ohms limit) {
  const auto path = hard_path(view, reading);
  if (!path || bounds_of_hard_path(view, reading, counting_of(reading)).hi.hi > limit)
    return elements_to_raise(network_of_points(view, reading), limit);
  std::vector<ElementId> elements;
  for (const View::Edge& edge : path->edges)
    if (edge.element != ElementId::none) elements.push_back(edge.element);
  std::sort(elements.begin(), elements.end());
  return elements;
}

namespace {

/// Of the current at the lowest values; where only a reversed diode leads across, of one that passes diodes
/// both ways, which is no smaller.
EffectiveResistance potentials_of(Network& network) {
  EffectiveResistance found = lowest_potentials(network);
  if (found.bounds.lo != k_infinite_ohms) return found;
  for (Network::Branch& branch : network.branches) branch.is_diode = false;
  return lowest_potentials(network);
}

/// What current into the net from outside, or out of it, has to pass at least. A diode lets it through one
/// way.
double least_ohms_around(const View& view, NetId net, bool inward) {
  double siemens = 0;
  for_each_load(view, net, [&](const Load& load) {
    if (load.a == load.b) return;
    const bool leads_there = (load.b == net) == inward;
    if (leads_there || !view.graph().is_diode(load.element)) siemens += 1 / load.ohms.lo.value;
  });
  return 1 / siemens;
}

}  // namespace

LoweringJoints::LoweringJoints(const View& view, const Probing& reading, Ohms to)
    : view_(view), most_(to.value * (1 + k_solver_accuracy)) {
  const ProbedNets probed(view, reading);
  Network network = network_with_all_diodes(view, probed);
  const auto diodes = std::count_if(network.branches.begin(), network.branches.end(),
                                    [](const Network::Branch& branch) { return branch.is_diode; });
  const EffectiveResistance lowest = potentials_of(network);
  highest_ = lowest.bounds.lo.value;
  conducts_ = highest_ < k_infinite_ohms.value;
  needed_ =
      highest_ * (1 - k_solver_accuracy) - k_least_diode_ohms.value * static_cast<double>(diodes) - most_;
  const auto is_probed = [&](NetId net) {
    return std::find(probed.from.begin(), probed.from.end(), net) != probed.from.end() ||
           std::find(probed.to.begin(), probed.to.end(), net) != probed.to.end();
  };
  for (std::uint32_t node = 0; node < network.nodes; ++node) {
    const NetId net = network.nets[node];
    const double potential = lowest.potential.empty() ? 0 : lowest.potential[node];
    if (conducts_)
      places_.push_back({net, highest_ * potential});
    else
      places_.push_back(
          {net, is_probed(net) ? 0 : least_ohms_around(view, net, potential > 0), potential > 0});
  }
  std::sort(places_.begin(), places_.end(), [](const Place& x, const Place& y) { return x.net < y.net; });
  if (!conducts_) return;
  for (const Network::Branch& branch : network.branches)
    if (branch.edge.element != ElementId::none) loads_.push_back(branch.edge.element);
  // Beside copper that is not free, a load of its own net carries current.
  for (const Place& place : places_)
    if (view.net_has_least_ohms(place.net))
      for_each_load(view, place.net, [&](const Load& load) { loads_.push_back(load.element); });
  std::sort(loads_.begin(), loads_.end());
  loads_.erase(std::unique(loads_.begin(), loads_.end()), loads_.end());
}

const LoweringJoints::Place* LoweringJoints::place(PointId p) const {
  const NetId net = view_.net(p);
  const auto at = std::lower_bound(places_.begin(), places_.end(), net,
                                   [](const Place& place, NetId wanted) { return place.net < wanted; });
  return at != places_.end() && at->net == net ? &*at : nullptr;
}

bool LoweringJoints::is_start(const Place& place, unsigned joints) const {
  if (conducts_) return joints * place.at >= needed_;
  return place.is_red && place.at <= joints * most_;
}

std::vector<NetId> LoweringJoints::starts(unsigned joints) const {
  std::vector<NetId> starts;
  for (const Place& place : places_)
    if (is_start(place, joints)) starts.push_back(place.net);
  return starts;
}

std::vector<NetId> LoweringJoints::nets() const {
  std::vector<NetId> nets;
  for (const Place& place : places_)
    if (conducts_ || place.is_red) nets.push_back(place.net);
  return nets;
}

bool LoweringJoints::may_end(PointId p) const {
  const Place* found = place(p);
  if (found == nullptr) return false;
  if (conducts_) return found->at >= needed_ || found->at <= highest_ - needed_;
  return !found->is_red && found->at <= most_;
}

bool LoweringJoints::may_do(std::span<const Joint> joints) const {
  if (const std::optional<Joint> one = as_one(joints)) return may_do({&*one, 1});
  return conducts_ ? may_take_away(joints) : may_carry(joints);
}

/// Two joints that lead to where nothing flows so far may be one from end to end, over what is there.
std::optional<Joint> LoweringJoints::as_one(std::span<const Joint> joints) const {
  if (joints.size() != 2) return std::nullopt;
  std::array<PointId, 2> ends{};
  for (std::size_t i = 0; i < 2; ++i) {
    const bool p_carries = place(joints[i].p) != nullptr, q_carries = place(joints[i].q) != nullptr;
    if (p_carries == q_carries) return std::nullopt;
    ends[i] = p_carries ? joints[i].p : joints[i].q;
  }
  return Joint{ends[0], ends[1]};
}

bool LoweringJoints::may_take_away(std::span<const Joint> joints) const {
  double sum = 0;
  for (const Joint& joint : joints) {
    const Place *p = place(joint.p), *q = place(joint.q);
    if (p != nullptr && q != nullptr)
      sum += std::abs(p->at - q->at);
    else if (joints.size() > 2)
      return true;  // a way over what carries nothing so far
  }
  return sum >= needed_;
}

bool LoweringJoints::may_carry(std::span<const Joint> joints) const {
  bool leads_across = false, could_do_half = false, one_side = false;
  for (const Joint& joint : joints) {
    const Place *p = place(joint.p), *q = place(joint.q);
    if (p == nullptr || q == nullptr) continue;
    if (p->is_red == q->is_red) {
      one_side = true;
      continue;
    }
    leads_across = true;
    const double least = joints.size() == 1 ? p->at + q->at : std::max(p->at, q->at) / 2;
    could_do_half = could_do_half || least <= most_;
  }
  // Many joints, or one on a side beside one across, may give the current other ways to these nets.
  if (joints.size() > 2) return true;
  return leads_across && (could_do_half || one_side);
}

std::vector<Way> ways_between(const View& view, const Probing& reading, std::size_t most) {
  return ways_of(network_of_points(view, reading), most);
}

}  // namespace ringtrue
