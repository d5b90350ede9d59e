#include "clusters.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <span>
#include <tuple>

namespace ringtrue {

namespace {

class Linking {
 public:
  Linking(const Candidates& candidates, const Consistency& consistency, const Costs& costs,
          const DiagnoseOptions& options)
      : candidates_(candidates),
        consistency_(consistency),
        margin_(-std::log(std::max(options.least_share, 1e-300))),
        dearest_(costs.distant_short()),
        max_faults_(options.max_faults),
        readings_(all_disagreements(consistency.comparison())) {}

  Clustering run() {
    start();
    std::vector<Taken> taken = gather();
    std::sort(taken.begin(), taken.end(), [](const Taken& x, const Taken& y) {
      return x.fault != y.fault ? x.fault < y.fault : x.reading < y.reading;
    });
    taken.erase(std::unique(taken.begin(), taken.end(),
                            [](const Taken& x, const Taken& y) {
                              return x.fault == y.fault && x.reading == y.reading;
                            }),
                taken.end());
    std::vector<std::span<const Taken>> shared;
    for (auto first = taken.begin(); first != taken.end();) {
      const auto last =
          std::find_if(first, taken.end(), [&](const Taken& t) { return t.fault != first->fault; });
      if (last - first > 1) shared.emplace_back(first, last);
      first = last;
    }
    // The cheapest faults first: what they link need not be tried again.
    std::stable_sort(shared.begin(), shared.end(),
                     [](const auto& x, const auto& y) { return x.front().cost < y.front().cost; });
    for (const auto& takers : shared) link_whole(takers);
    for (const auto& takers : shared) link(takers);
    Clustering made{scopes(), faults_across(shared), {}};
    std::sort(unrefuted_.begin(), unrefuted_.end());
    unrefuted_.erase(std::unique(unrefuted_.begin(), unrefuted_.end()), unrefuted_.end());
    made.unrefuted = std::move(unrefuted_);
    return made;
  }

 private:
  /// A fault that would take a reading on.
  struct Taken {
    Fault fault;
    double cost = 0;
    std::uint32_t reading = 0;  ///< by place in readings_
  };
  /// Readings that are explained together; empty once it's part of another.
  struct Group {
    std::vector<std::uint32_t> members;
    double cost = 0;        ///< of the cheapest way known to explain them apart from all others
    bool is_by_one = true;  ///< that way is a single fault
    std::vector<std::vector<std::uint32_t>> parts;  ///< else: those that single faults explain
  };

  bool is_unrefuted(const Fault& fault) {
    if (!consistency_.is_unrefuted({&fault, 1})) return false;
    unrefuted_.push_back(fault);
    return true;
  }

  /// Cheapest fault that explains the reading alone and contradicts nothing; there's always the bad reading.
  double cheapest_alone(ReadingId reading) {
    const double bad = candidates_.cost_of_bad(reading);
    for (const Candidate& candidate : candidates_.branch_set({}, reading, bad, Reach::alone)) {
      const Fault* fault = &candidate.fault;
      if (consistency_.explains_reading({fault, 1}, reading) && is_unrefuted(*fault)) return candidate.cost;
    }
    return bad;
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

  /// One group for each reading, but one for all between the same two nets.
  void start() {
    std::map<std::tuple<std::uint16_t, NetId, NetId>, std::uint32_t> seen;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      const std::uint32_t twin = first_between_these_nets(i, seen);
      twin_.push_back(twin);
      group_of_.push_back(twin == i ? static_cast<std::uint32_t>(groups_.size()) : group_of_[twin]);
      if (twin == i) groups_.emplace_back();
      Group& group = groups_[group_of_[i]];
      group.members.push_back(i);
      group.is_by_one = group.members.size() == 1;
    }
  }

  std::vector<Taken> gather() {
    alone_.resize(readings_.size());
    double dearest = 0;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      alone_[i] = twin_[i] != i ? alone_[twin_[i]] : cheapest_alone(readings_[i]);
      dearest = std::max(dearest, alone_[i]);
      groups_[group_of_[i]].cost += alone_[i];
    }
    std::vector<Taken> taken;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      if (twin_[i] != i) continue;
      // Where something is joined, or nothing cheaper than a bad reading explains it, all that may have done
      // it; where something is parted, what is likelier than two faults apart: the rest has joined something
      // as well, or is no better than an open.
      const bool is_parted = consistency_.probing(readings_[i]).value.kind != ValueKind::beep &&
                             alone_[i] < candidates_.cost_of_bad(readings_[i]);
      const double most = is_parted ? alone_[i] + dearest : groups_[group_of_[i]].cost + dearest_ + margin_;
      for (const Candidate& candidate : candidates_.branch_set({}, readings_[i], most, Reach::alone))
        if (candidate.fault.kind != FaultKind::bad_reading)
          taken.push_back({candidate.fault, candidate.cost, i});
    }
    offer_to_parted(taken);
    return taken;
  }

  /// What joins two nets may have parted others: a conductor that lands elsewhere has left its place.
  void offer_to_parted(std::vector<Taken>& taken) const {
    std::map<ElementId, std::vector<std::uint32_t>> parted_at;  // readings by conductor on their ways
    for (const Taken& one : taken)
      if (one.fault.kind == FaultKind::open || one.fault.kind == FaultKind::missing_bridge)
        parted_at[one.fault.element].push_back(one.reading);
    if (parted_at.empty()) return;
    std::vector<Taken> more;
    const ConductionGraph& graph = consistency_.graph();
    for (const Taken& one : taken)
      for (const LandedEnd& moved : landed_ends(one.fault, graph))
        if (const auto at = parted_at.find(moved.conductor); at != parted_at.end())
          for (const std::uint32_t reading : at->second) more.push_back({one.fault, one.cost, reading});
    taken.insert(taken.end(), more.begin(), more.end());
  }

  /// Groups to which the fault was offered, if it may save something there and contradicts nothing.
  std::vector<std::uint32_t> groups_offered(std::span<const Taken> offered, double margin) {
    std::vector<std::uint32_t> groups;
    for (const Taken& one : offered) groups.push_back(group_of_[one.reading]);
    std::sort(groups.begin(), groups.end());
    groups.erase(std::unique(groups.begin(), groups.end()), groups.end());
    double most_saved = margin;
    for (const std::uint32_t group : groups) most_saved += groups_[group].cost;
    if (offered.front().cost >= most_saved || !is_unrefuted(offered.front().fault)) return {};
    return groups;
  }

  /// Joins groups that the fault explains whole, if it costs less than what explains them apart.
  void link_whole(std::span<const Taken> offered) {
    const Candidate one{offered.front().fault, offered.front().cost};
    std::vector<std::uint32_t> whole;
    double apart = 0;
    for (const std::uint32_t group : groups_offered(offered, 0)) {
      if (saving_in(groups_[group], one.fault).readings != groups_[group].members.size()) continue;
      whole.push_back(group);
      apart += groups_[group].cost;
    }
    if (whole.empty() || one.cost > apart || (whole.size() > 1 && one.cost == apart)) return;
    if (whole.size() > 1) join(whole);
    Group& into = groups_[whole.front()];
    into.cost = one.cost;
    into.is_by_one = true;
  }

  /// Joins the groups in which the fault explains readings, if explaining them by it may cost less than
  /// explaining them apart: two readings, or all that it explains. No more than can be explained by the
  /// faults that an explanation may have.
  void link(std::span<const Taken> offered) {
    const Fault& fault = offered.front().fault;
    const double cost = offered.front().cost;
    struct Gain {
      std::uint32_t group;
      Saving saving;
    };
    std::vector<Gain> gains;
    double saved = 0;
    for (const std::uint32_t group : groups_offered(offered, 0)) {
      Saving saving = saving_in(groups_[group], fault);
      if (saving.readings == 0) continue;
      if (saving.readings == groups_[group].members.size() && cost <= groups_[group].cost) {
        saving.cost = groups_[group].cost = cost;
        groups_[group].is_by_one = true;
      }
      gains.push_back({group, saving});
      saved += saving.cost;
    }
    if (gains.size() < 2) return;
    const bool pays_in_all = cost < saved;
    // Where one fault explains a group, another one that explains some of it saves only what the rest leaves.
    const auto worth = [this](const Gain& gain) {
      return groups_[gain.group].is_by_one ? gain.saving.cost : gain.saving.dearest;
    };
    const Gain best = *std::max_element(gains.begin(), gains.end(),
                                        [&](const Gain& x, const Gain& y) { return worth(x) < worth(y); });
    std::vector<std::uint32_t> joined;
    double apart = 0;
    bool takes_all = true;
    for (const Gain& gain : gains) {
      const bool pays = gain.group == best.group || cost < worth(gain) + worth(best);
      if (!pays && !(pays_in_all && gain.saving.cost > 0)) continue;
      joined.push_back(gain.group);
      apart += groups_[gain.group].cost;
      takes_all = takes_all && gain.saving.readings == groups_[gain.group].members.size();
    }
    std::size_t parts = 0;
    for (const std::uint32_t group : joined) parts += parts_of(groups_[group]).size();
    if (joined.size() < 2 || (parts > max_faults_ && !takes_all)) return;
    join(joined);
    groups_[joined.front()].is_by_one = takes_all && cost <= apart;
    groups_[joined.front()].cost = takes_all ? std::min(apart, cost) : apart;
  }

  void join(const std::vector<std::uint32_t>& joined) {
    std::vector<std::vector<std::uint32_t>> parts;
    for (const std::uint32_t group : joined) {
      std::vector<std::vector<std::uint32_t>> own = parts_of(groups_[group]);
      std::move(own.begin(), own.end(), std::back_inserter(parts));
    }
    Group& into = groups_[joined.front()];
    for (auto from = std::next(joined.begin()); from != joined.end(); ++from) {
      Group& group = groups_[*from];
      for (const std::uint32_t i : group.members) group_of_[i] = joined.front();
      into.members.insert(into.members.end(), group.members.begin(), group.members.end());
      group.members.clear();
    }
    into.parts = std::move(parts);
  }

  static std::vector<std::vector<std::uint32_t>> parts_of(const Group& group) {
    if (group.is_by_one || group.parts.empty()) return {group.members};
    return group.parts;
  }

  /// Faults that explain several groups whole at a cost that may still count.
  std::vector<Candidate> faults_across(const std::vector<std::span<const Taken>>& shared) {
    std::vector<Candidate> found;
    for (const auto& offered : shared) {
      const Candidate one{offered.front().fault, offered.front().cost};
      std::size_t whole = 0;
      for (const std::uint32_t group : groups_offered(offered, margin_))
        whole += saving_in(groups_[group], one.fault).readings == groups_[group].members.size() ? 1 : 0;
      if (whole > 1) found.push_back(one);
    }
    return found;
  }

  struct Saving {
    double cost = 0;           ///< what the group's explanation may get cheaper by
    std::size_t readings = 0;  ///< that the fault explains
    double dearest = 0;        ///< of those, explained alone
  };
  /// The whole cost if the fault explains all of the group, else what it is above the dearest reading left.
  Saving saving_in(const Group& group, const Fault& fault) const {
    double left = 0;
    Saving saving;
    for (const std::uint32_t i : group.members) {
      if (consistency_.explains_reading({&fault, 1}, readings_[i])) {
        ++saving.readings;
        saving.dearest = std::max(saving.dearest, alone_[i]);
      } else {
        left = std::max(left, alone_[i]);
      }
    }
    saving.cost = group.cost - left;
    return saving;
  }

  [[nodiscard]] Scope scope_of(const std::vector<std::uint32_t>& members) const {
    Scope scope;
    for (const std::uint32_t i : members) scope.push_back(readings_[i]);
    std::sort(scope.begin(), scope.end());
    return scope;
  }

  [[nodiscard]] std::vector<LinkedScope> scopes() const {
    std::vector<LinkedScope> scopes;
    for (const Group& group : groups_) {
      if (group.members.empty()) continue;
      LinkedScope& scope = scopes.emplace_back(LinkedScope{scope_of(group.members), group.cost, {}});
      for (const auto& part : parts_of(group)) scope.parts.push_back(scope_of(part));
    }
    std::sort(scopes.begin(), scopes.end(),
              [](const LinkedScope& x, const LinkedScope& y) { return x.readings < y.readings; });
    return scopes;
  }

  const Candidates& candidates_;
  const Consistency& consistency_;
  double margin_, dearest_;
  std::size_t max_faults_;
  Scope readings_;
  std::vector<std::uint32_t> twin_;      ///< by reading: the first between the same two nets
  std::vector<std::uint32_t> group_of_;  ///< by reading
  std::vector<Group> groups_;
  std::vector<double> alone_;  ///< by reading
  std::vector<Fault> unrefuted_;
};

}  // namespace

Clustering cluster(const Candidates& candidates, const Consistency& consistency, const Costs& costs,
                   const DiagnoseOptions& options) {
  return Linking(candidates, consistency, costs, options).run();
}

}  // namespace ringtrue
