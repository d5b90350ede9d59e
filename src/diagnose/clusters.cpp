#include "clusters.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <span>
#include <tuple>
#include <unordered_set>

namespace ringtrue {

namespace {

class Linking {
 public:
  Linking(SingleFaults& singles, const Costs& costs, const DiagnoseOptions& options)
      : singles_(singles),
        consistency_(singles.consistency()),
        margin_(-std::log(std::max(options.least_share, 1e-300))),
        dearest_(costs.distant_short()),
        least_(costs.least()),
        max_faults_(options.max_faults),
        threads_(options.threads),
        readings_(all_disagreements(singles.consistency().comparison())) {}

  Clustering run() {
    start();
    std::vector<Taken> taken = gather();
    std::sort(taken.begin(), taken.end(), [](const Taken& x, const Taken& y) {
      return x.id != y.id ? x.id < y.id : x.reading < y.reading;
    });
    taken.erase(
        std::unique(taken.begin(), taken.end(),
                    [](const Taken& x, const Taken& y) { return x.id == y.id && x.reading == y.reading; }),
        taken.end());
    std::vector<std::span<const Taken>> shared;
    for (auto first = taken.begin(); first != taken.end();) {
      const auto last = std::find_if(first, taken.end(), [&](const Taken& t) { return t.id != first->id; });
      if (last - first > 1) shared.emplace_back(first, last);
      first = last;
    }
    // The cheapest faults first: what they link need not be tried again.
    std::sort(shared.begin(), shared.end(), [this](const auto& x, const auto& y) {
      return x.front().cost != y.front().cost ? x.front().cost < y.front().cost
                                              : singles_.fault(x.front().id) < singles_.fault(y.front().id);
    });
    for (const auto& takers : shared) link_whole(takers);
    for (const auto& takers : shared) link(takers);
    Clustering made{scopes(), faults_across(shared), {}, {}};
    consistency_.watch();
    made.wide = wide(shared);
    made.wide_rest_on = consistency_.watched();
    return made;
  }

 private:
  /// A fault that would take a reading on.
  struct Taken {
    SingleFaults::Id id;
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

  /// Cheapest fault that explains the reading alone and contradicts nothing; there's always the bad reading.
  double cheapest_alone(ReadingId reading) {
    const double bad = singles_.cost_of_bad(reading);
    for (const SingleFaults::Priced& one : singles_.that_may_explain(reading, bad))
      if (singles_.explains(one.id, reading) && singles_.is_unrefuted(one.id)) return one.cost;
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
    look_ahead([this](std::uint32_t i) { return singles_.cost_of_bad(readings_[i]); });
    double dearest = 0;
    for (std::uint32_t i = 0; i < readings_.size(); ++i) {
      alone_[i] = twin_[i] != i ? alone_[twin_[i]] : cheapest_alone(readings_[i]);
      dearest = std::max(dearest, alone_[i]);
      groups_[group_of_[i]].cost += alone_[i];
    }
    // What joins is asked for at once as widely as it will be for nearly all.
    look_ahead([&](std::uint32_t i) {
      const double together = better_than_two(i, dearest);
      return is_parted(i) ? together : std::max(together, better_than_bad(i));
    });
    look_ahead([&](std::uint32_t i) { return most_to_link(i, dearest); });
    std::vector<Taken> taken;
    for (std::uint32_t i = 0; i < readings_.size(); ++i)
      if (twin_[i] == i)
        for (const SingleFaults::Priced& one :
             singles_.that_may_explain(readings_[i], most_to_link(i, dearest)))
          if (singles_.fault(one.id).kind != FaultKind::bad_reading) taken.push_back({one.id, one.cost, i});
    offer_to_parted(taken);
    return taken;
  }

  /// Where something is joined, or nothing cheaper than a bad reading explains it, all that may have done it;
  /// where something is parted, or there is very much to choose from, what is likelier than two faults apart:
  /// the rest has joined something as well, or is no better than an open.
  double most_to_link(std::uint32_t i, double dearest) {
    constexpr std::size_t k_very_much = 2'000;
    const double together = better_than_two(i, dearest);
    if (is_parted(i) || singles_.that_may_explain(readings_[i], together).size() > k_very_much)
      return together;
    return better_than_bad(i);
  }
  [[nodiscard]] bool is_parted(std::uint32_t i) const {
    return consistency_.probing(readings_[i]).value.kind != ValueKind::beep &&
           alone_[i] < singles_.cost_of_bad(readings_[i]);
  }
  [[nodiscard]] double better_than_two(std::uint32_t i, double dearest) const {
    return alone_[i] + dearest + margin_;
  }
  [[nodiscard]] double better_than_bad(std::uint32_t i) const {
    return groups_[group_of_[i]].cost + dearest_ + margin_;
  }

  /// Has single faults sought by several threads, up to a cost for each reading.
  template <class CostOf>
  void look_ahead(CostOf&& cost_of) {
    std::vector<SingleFaults::Question> questions;
    for (std::uint32_t i = 0; i < readings_.size(); ++i)
      if (twin_[i] == i) questions.push_back({readings_[i], cost_of(i)});
    singles_.look_ahead(questions, threads_);
  }

  /// What joins two nets may have parted others: a conductor that lands elsewhere has left its place.
  void offer_to_parted(std::vector<Taken>& taken) const {
    std::map<ElementId, std::vector<std::uint32_t>> parted_at;  // readings by conductor on their ways
    for (const Taken& one : taken) {
      const Fault& fault = singles_.fault(one.id);
      if (fault.kind == FaultKind::open || fault.kind == FaultKind::missing_bridge)
        parted_at[fault.element].push_back(one.reading);
    }
    if (parted_at.empty()) return;
    std::vector<Taken> more;
    std::unordered_set<SingleFaults::Id> known;
    for (const Taken& one : taken) {
      if (!known.insert(one.id).second) continue;
      for (const LandedEnd& moved : landed_ends(singles_.fault(one.id), consistency_.graph()))
        if (const auto at = parted_at.find(moved.conductor); at != parted_at.end())
          for (const std::uint32_t reading : at->second) more.push_back({one.id, one.cost, reading});
    }
    taken.insert(taken.end(), more.begin(), more.end());
  }

  /// Groups to which the fault was offered, if it may save something there.
  std::vector<std::uint32_t> groups_offered(std::span<const Taken> offered, double margin) {
    std::vector<std::uint32_t> groups;
    for (const Taken& one : offered) groups.push_back(group_of_[one.reading]);
    std::sort(groups.begin(), groups.end());
    groups.erase(std::unique(groups.begin(), groups.end()), groups.end());
    double most_saved = margin;
    for (const std::uint32_t group : groups) most_saved += groups_[group].cost;
    return offered.front().cost < most_saved ? groups : std::vector<std::uint32_t>{};
  }

  /// Those of them where it explains a reading that it was offered to.
  std::vector<std::uint32_t> groups_it_explains_part_of(std::span<const Taken> offered) {
    std::vector<std::uint32_t> groups = groups_offered(offered, 0);
    if (groups.size() < 2) return {};
    std::erase_if(groups, [&](std::uint32_t group) {
      return std::none_of(offered.begin(), offered.end(), [&](const Taken& one) {
        return group_of_[one.reading] == group && singles_.explains(one.id, readings_[one.reading]);
      });
    });
    return groups;
  }

  /// Joins groups that the fault explains whole, if it costs less than what explains them apart.
  void link_whole(std::span<const Taken> offered) {
    const auto [id, cost, first] = offered.front();
    std::vector<std::uint32_t> whole;
    double apart = 0;
    for (const std::uint32_t group : groups_offered(offered, 0)) {
      if (!explains_whole(id, groups_[group])) continue;
      whole.push_back(group);
      apart += groups_[group].cost;
    }
    if (whole.empty() || cost > apart || (whole.size() > 1 && cost == apart) || !singles_.is_unrefuted(id))
      return;
    if (whole.size() > 1) join(whole);
    Group& into = groups_[whole.front()];
    into.cost = cost;
    into.is_by_one = true;
  }

  /// Joins the groups in which the fault explains readings, if explaining them by it may cost less than
  /// explaining them apart: two readings, or all that it explains. No more than can be explained by the
  /// faults that an explanation may have.
  void link(std::span<const Taken> offered) {
    const auto [id, cost, first] = offered.front();
    struct Gain {
      std::uint32_t group;
      Saving saving;
    };
    std::vector<Gain> gains;
    double saved = 0;
    const std::vector<std::uint32_t> groups = groups_it_explains_part_of(offered);
    if (groups.size() < 2 || !singles_.is_unrefuted(id)) return;
    for (const std::uint32_t group : groups) gains.push_back({group, saving_in(groups_[group], id)});
    for (Gain& gain : gains) {
      Group& group = groups_[gain.group];
      if (gain.saving.readings == group.members.size() && cost <= group.cost) {
        gain.saving.cost = group.cost = cost;
        group.is_by_one = true;
      }
      saved += gain.saving.cost;
    }
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
      const auto [id, cost, first] = offered.front();
      const std::vector<std::uint32_t> groups = groups_offered(offered, margin_);
      const auto whole = std::count_if(groups.begin(), groups.end(), [&, id = id](std::uint32_t group) {
        return explains_whole(id, groups_[group]);
      });
      if (whole > 1 && singles_.is_unrefuted(id)) found.push_back({singles_.fault(id), cost});
    }
    return found;
  }

  /// Those that explain most in at least two scopes beyond what they and another fault cost, and contradict
  /// least.
  std::vector<Candidate> wide(const std::vector<std::span<const Taken>>& shared) const {
    constexpr std::size_t k_most = 16, k_most_looked_at = 256;
    struct Found {
      double saved;
      Candidate fault;
    };
    std::vector<Found> found;
    for (const auto& offered : shared)
      if (const double saved = most_saved_beside_another(offered); saved > 0)
        found.push_back({saved, {singles_.fault(offered.front().id), offered.front().cost}});
    const auto best_first = [](const Found& x, const Found& y) {
      return x.saved != y.saved ? x.saved > y.saved : x.fault.fault < y.fault.fault;
    };
    std::sort(found.begin(), found.end(), best_first);
    if (found.size() > k_most_looked_at) found.resize(k_most_looked_at);
    // A reading contradicted takes another fault to put right.
    for (Found& one : found)
      one.saved -= least_ * static_cast<double>(consistency_.contradicted({&one.fault.fault, 1}).size());
    std::sort(found.begin(), found.end(), best_first);
    std::vector<Candidate> faults;
    for (std::size_t i = 0; i < found.size() && i < k_most; ++i) faults.push_back(found[i].fault);
    return faults;
  }

  /// Where the fault may have more saved than it and another one cost: in each scope the dearest reading that
  /// it explains. Else nothing.
  double most_saved_beside_another(std::span<const Taken> offered) const {
    std::map<std::uint32_t, double> saved_in;
    double most = 0;
    for (const Taken& one : offered) {
      double& in_group = saved_in[group_of_[one.reading]];
      most += std::max(0.0, alone_[one.reading] - in_group);
      in_group = std::max(in_group, alone_[one.reading]);
    }
    const double cost = offered.front().cost + least_;
    if (saved_in.size() < 2 || most <= cost) return 0;
    saved_in.clear();
    for (const Taken& one : offered)
      if (singles_.explains(one.id, readings_[one.reading])) {
        double& in_group = saved_in[group_of_[one.reading]];
        in_group = std::max(in_group, alone_[one.reading]);
      }
    double saved = -cost;
    for (const auto& [group, in_group] : saved_in) saved += in_group;
    return saved_in.size() < 2 ? 0 : saved;
  }

  bool explains_whole(SingleFaults::Id id, const Group& group) {
    return std::all_of(group.members.begin(), group.members.end(),
                       [&](std::uint32_t i) { return singles_.explains(id, readings_[i]); });
  }

  struct Saving {
    double cost = 0;           ///< what the group's explanation may get cheaper by
    std::size_t readings = 0;  ///< that the fault explains
    double dearest = 0;        ///< of those, explained alone
  };
  /// The whole cost if the fault explains all of the group, else what it is above the dearest reading left.
  Saving saving_in(const Group& group, SingleFaults::Id id) {
    double left = 0;
    Saving saving;
    for (const std::uint32_t i : group.members) {
      if (singles_.explains(id, readings_[i])) {
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

  SingleFaults& singles_;
  const Consistency& consistency_;
  double margin_, dearest_, least_;
  std::size_t max_faults_;
  Threads threads_;
  Scope readings_;
  std::vector<std::uint32_t> twin_;      ///< by reading: the first between the same two nets
  std::vector<std::uint32_t> group_of_;  ///< by reading
  std::vector<Group> groups_;
  std::vector<double> alone_;  ///< by reading
};

}  // namespace

Clustering cluster(SingleFaults& singles, const Costs& costs, const DiagnoseOptions& options) {
  return Linking(singles, costs, options).run();
}

}  // namespace ringtrue
