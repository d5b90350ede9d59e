#include "clusters.hpp"

#include <algorithm>
#include <map>
#include <span>
#include <tuple>

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
    std::sort(taken_.begin(), taken_.end(), [](const Taken& x, const Taken& y) {
      return x.fault != y.fault ? x.fault < y.fault : x.reading < y.reading;
    });
    std::vector<std::span<const Taken>> shared;
    for (auto first = taken_.begin(); first != taken_.end();) {
      const auto last =
          std::find_if(first, taken_.end(), [&](const Taken& t) { return t.fault != first->fault; });
      if (last - first > 1) shared.emplace_back(first, last);
      first = last;
    }
    // The cheapest faults first: what they link need not be tried again.
    std::stable_sort(shared.begin(), shared.end(),
                     [](const auto& x, const auto& y) { return x.front().cost < y.front().cost; });
    for (const auto& takers : shared) link(takers);
    return groups();
  }

 private:
  /// A fault that would take a reading on.
  struct Taken {
    Fault fault;
    double cost = 0;
    std::uint32_t reading = 0;  ///< by place in readings_
  };

  /// Cheapest fault that explains the reading alone and contradicts nothing; a short at the most.
  double cheapest_alone(ReadingId reading, const std::vector<Candidate>& set) const {
    for (const Candidate& candidate : set) {
      const Fault* fault = &candidate.fault;
      if (consistency_.explains_reading({fault, 1}, reading) && consistency_.is_unrefuted({fault, 1}))
        return candidate.cost;
    }
    return landing_.short_cost();
  }

  /// Readings that show the same two nets joined have the same branch set; one of them stands for all.
  std::uint32_t first_between_these_nets(
      std::uint32_t i, std::map<std::tuple<std::uint16_t, NetId, NetId>, std::uint32_t>& seen) const {
    const Probing& probing = consistency_.probing(readings_[i]);
    const std::uint16_t condition = consistency_.condition_of(readings_[i]);
    const View& view = consistency_.drawn_view(condition);
    const auto [from, to] = std::minmax({view.net(probing.from), view.net(probing.to)});
    if (from == to || probing.from_either_side || probing.to_either_side ||
        probing.value.kind != ValueKind::beep)
      return i;
    return seen.try_emplace({condition, from, to}, i).first->second;
  }

  void gather() {
    const double dearest = landing_.short_cost();
    std::map<std::tuple<std::uint16_t, NetId, NetId>, std::uint32_t> seen;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      if (const std::uint32_t twin = first_between_these_nets(i, seen); twin != i) {
        parent_[i] = twin;
        alone_.push_back(alone_[twin]);
        continue;
      }
      std::vector<Candidate> set = candidates_.branch_set({}, readings_[i], dearest, Reach::alone);
      alone_.push_back(cheapest_alone(readings_[i], set));
      if (consistency_.probing(readings_[i]).value.kind == ValueKind::ohms) {
        take_those_that_explain(set, i);
        continue;
      }
      const double most = alone_.back() + dearest;
      if (most > dearest) set = candidates_.branch_set({}, readings_[i], most, Reach::alone);
      for (const Candidate& candidate : set)
        taken_.push_back({landing_.by_block(candidate.fault), candidate.cost, i});
    }
  }

  /// A fault in the branch set of a value in ohms mostly leads to another value.
  void take_those_that_explain(const std::vector<Candidate>& set, std::uint32_t i) {
    for (const Candidate& candidate : set)
      if (consistency_.explains_reading({&candidate.fault, 1}, readings_[i]))
        taken_.push_back({landing_.by_block(candidate.fault), candidate.cost, i});
  }

  void link(std::span<const Taken> takers) {
    const Fault& fault = takers.front().fault;
    const auto is_linked = [&](const Taken& t) { return root(t.reading) == root(takers.front().reading); };
    if (std::all_of(takers.begin(), takers.end(), is_linked) || !consistency_.is_unrefuted({&fault, 1}))
      return;
    for (const Taken& one : takers)
      for (const Taken& other : takers) {
        if (other.reading >= one.reading) break;
        if (std::min(one.cost, other.cost) < alone_[one.reading] + alone_[other.reading])
          parent_[root(one.reading)] = root(other.reading);
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
  std::vector<Taken> taken_;
};

}  // namespace

std::vector<Scope> cluster(const Candidates& candidates, const Consistency& consistency,
                           const Landing& landing) {
  return Linking(candidates, consistency, landing).run();
}

}  // namespace ringtrue
