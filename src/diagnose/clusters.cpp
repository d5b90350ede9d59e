#include "clusters.hpp"

#include <algorithm>
#include <map>

namespace ringtrue {

namespace {

class Linking {
 public:
  Linking(const Candidates& candidates, const Consistency& consistency, const Landing& landing)
      : candidates_(candidates), consistency_(consistency), landing_(landing) {
    const auto& standing = consistency.comparison().standing;
    for (std::uint32_t i = 0; i < standing.size(); ++i)
      if (standing[i] == Standing::disagrees) readings_.push_back(ReadingId{i});
    parent_.resize(readings_.size());
    for (std::uint32_t i = 0; i < parent_.size(); ++i) parent_[i] = i;
  }

  std::vector<Scope> run() {
    gather();
    for (const auto& [fault, takers] : takers_)
      if (takers.readings.size() > 1) link(fault, takers);
    return groups();
  }

 private:
  struct Takers {
    double cost = 0;
    std::vector<std::uint32_t> readings;  // by place in readings_
  };

  /// Cheapest fault that explains the reading alone and contradicts nothing; a short at the most.
  double cheapest_alone(ReadingId reading, const std::vector<Candidate>& set) const {
    for (const Candidate& candidate : set) {
      const Fault* fault = &candidate.fault;
      if (consistency_.explains_reading({fault, 1}, reading) && consistency_.is_unrefuted({fault, 1})) return candidate.cost;
    }
    return landing_.short_cost();
  }

  void gather() {
    const double dearest = landing_.short_cost();
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      std::vector<Candidate> set = candidates_.branch_set({}, readings_[i], dearest, Reach::alone);
      alone_.push_back(cheapest_alone(readings_[i], set));
      const double most = alone_.back() + dearest;
      if (most > dearest) set = candidates_.branch_set({}, readings_[i], most, Reach::alone);
      for (const Candidate& candidate : set) {
        Takers& takers = takers_[by_block(candidate.fault)];
        if (takers.readings.empty() || candidate.cost < takers.cost) takers.cost = candidate.cost;
        takers.readings.push_back(i);
      }
    }
  }

  /// One key for faults that differ only in the point of a block.
  [[nodiscard]] Fault by_block(Fault fault) const {
    if (fault.p != PointId::none) fault.p = landing_.first_of_block(landing_.block(fault.p));
    if (fault.q != PointId::none) fault.q = landing_.first_of_block(landing_.block(fault.q));
    if (fault.q != PointId::none && fault.q < fault.p) std::swap(fault.p, fault.q);
    if (fault.kind == FaultKind::extra_bridge) fault.kind = FaultKind::short_circuit;
    return fault;
  }

  void link(const Fault& fault, const Takers& takers) {
    const std::uint32_t first = takers.readings.front();
    const bool all_linked = std::all_of(takers.readings.begin(), takers.readings.end(), [&](std::uint32_t i) { return root(i) == root(first); });
    if (all_linked || !consistency_.is_unrefuted({&fault, 1})) return;
    for (const std::uint32_t i : takers.readings)
      for (const std::uint32_t j : takers.readings) {
        if (j >= i) break;
        if (takers.cost < alone_[i] + alone_[j]) parent_[root(std::max(i, j))] = root(std::min(i, j));
      }
  }

  std::uint32_t root(std::uint32_t i) {
    while (parent_[i] != i) i = parent_[i] = parent_[parent_[i]];
    return i;
  }

  std::vector<Scope> groups() {
    std::map<std::uint32_t, Scope> by_root;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) by_root[root(i)].push_back(readings_[i]);
    std::vector<Scope> groups;
    for (auto& [root, scope] : by_root) groups.push_back(std::move(scope));
    std::sort(groups.begin(), groups.end());
    return groups;
  }

  const Candidates& candidates_;
  const Consistency& consistency_;
  const Landing& landing_;
  std::vector<ReadingId> readings_;
  std::vector<double> alone_;
  std::vector<std::uint32_t> parent_;
  std::map<Fault, Takers> takers_;
};

}  // namespace

std::vector<Scope> cluster(const Candidates& candidates, const Consistency& consistency, const Landing& landing) {
  return Linking(candidates, consistency, landing).run();
}

}  // namespace ringtrue
