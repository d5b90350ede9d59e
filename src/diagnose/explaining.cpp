#include "explaining.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "classes.hpp"
#include "ringtrue/expect/currents.hpp"

namespace ringtrue {

void Explaining::run() {
  is_forgotten_ = false;
  clusters_.clear();
  conflicts_.clear();
  together_.clear();
  wide_rest_on_.clear();
  const Scope all = all_disagreements(consistency_.comparison());
  if (all.empty()) return;
  if (options_.joint) {
    clusters_.push_back(explain_one(all));
  } else {
    Clustering found = cluster(singles_, costs_, options_);
    wide_rest_on_ = std::move(found.wide_rest_on);
    explain_first(found.scopes);
    for (const LinkedScope& scope : found.scopes)
      for (Cluster& one : explain_linked(scope)) clusters_.push_back(std::move(one));
    sort_by_first_reading();
    while (join_by_pair(found.wide)) {
    }
    while (merge_masking()) {
    }
    add_exchanged_conductors(found.faults_across);
    add_faults_across(found.faults_across);
  }
  for (Cluster& cluster : clusters_) {
    explain_values(cluster);
    if (cluster.diagnoses.empty()) {
      if (cluster.complete_up_to != 0) cluster.contradiction = contradiction(cluster.readings);
      continue;
    }
    const std::vector<Fault>& faults = cluster.diagnoses.front().faults;
    together_.insert(together_.end(), faults.begin(), faults.end());
  }
}

/// Leaves out one reading after the other as long as the rest still contradicts itself.
const std::vector<ReadingId>& Explaining::contradiction(const Scope& scope) {
  const auto [at, is_new] = contradictions_.try_emplace(scope);
  if (!is_new) return at->second.readings;
  DiagnoseOptions quick = options_;
  quick.max_sets = std::min<std::size_t>(options_.max_sets, 20'000);
  Scope kept = scope;
  consistency_.watch();
  for (const ReadingId reading : scope) {
    // So few can all be bad readings.
    if (kept.size() <= options_.max_faults + 1) break;
    Scope rest = kept;
    std::erase(rest, reading);
    const SearchResult found = explain(candidates_, consistency_, costs_, rest, quick, k_any_cost, &singles_);
    expanded_ += found.expanded;
    if (found.explanations.empty() && !found.gave_up) kept = std::move(rest);
  }
  at->second = {std::move(kept), consistency_.watched()};
  return at->second.readings;
}

bool Explaining::allows(std::span<const Fault> faults, ReadingId reading) const {
  if (!consistency_.can_change(faults, reading)) return true;
  return consistency_.explains_reading(faults, reading) && !consistency_.is_doubt(faults, reading);
}

bool Explaining::keeps(ReadingId reading) {
  if (!consistency_.is_used(reading)) return true;
  if (consistency_.comparison().standing[index(reading)] == Standing::disagrees) return false;
  std::vector<NetId> nets = consistency_.nets_where_faults_change(reading);
  std::sort(nets.begin(), nets.end());
  const auto is_there = [&](const std::vector<NetId>& touched) {
    return std::any_of(nets.begin(), nets.end(),
                       [&](NetId net) { return std::binary_search(touched.begin(), touched.end(), net); });
  };
  bool kept = singles_.take_in(reading) && !is_forgotten_ && !is_there(wide_rest_on_);
  for (auto known = remembered_.begin(); known != remembered_.end();) {
    const SearchResult& found = known->second.found;
    const std::vector<NetId>& touched = known->second.touched;
    const bool holds =
        !is_there(touched) ||
        (!found.gave_up && std::all_of(found.explanations.begin(), found.explanations.end(),
                                       [&](const Explanation& one) { return allows(one.items, reading); }));
    kept = kept && holds;
    known = holds ? std::next(known) : remembered_.erase(known);
  }
  // Which readings contradict each other may change with every further one.
  const std::size_t changed =
      std::erase_if(contradictions_, [&](const auto& known) { return is_there(known.second.touched); });
  return kept && changed == 0 && allows(together_, reading);
}

void Explaining::forget() {
  remembered_.clear();
  contradictions_.clear();
  singles_.forget_choices();
  is_forgotten_ = true;
}

void Explaining::explain_values(Cluster& cluster) const {
  if (cluster.diagnoses.empty()) return;
  constexpr std::size_t k_most_ways = 4;
  Diagnosis& likeliest = cluster.diagnoses.front();
  for (const ReadingId reading : cluster.readings) {
    const Probing& probing = consistency_.probing(reading);
    if (probing.value.kind != ValueKind::ohms) continue;
    const Overlay with = consistency_.overlay(likeliest.faults, reading);
    const View view(graph_, with);
    ExplainedOhms explained{reading, expected_resistance(view, probing), {}};
    for (const Way& way : ways_between(view, probing, k_most_ways))
      explained.loads.push_back(loads_of(way, graph_));
    std::sort(explained.loads.begin(), explained.loads.end());
    likeliest.in_ohms.push_back(std::move(explained));
  }
}

Explaining::Remembered Explaining::search(const Asked& asked, const Workplace& at) const {
  const auto& [scope, dearest, max_sets, with] = asked;
  DiagnoseOptions options = options_;
  options.max_sets = std::min(options_.max_sets, max_sets);
  Remembered made;
  const std::size_t relabelled_before = at.consistency.nets_relabelled();
  at.consistency.watch();
  made.found = with ? explain_by_pair({with->first, with->second}, at.candidates, at.consistency, at.costs,
                                      scope, options, dearest)
                    : explain(at.candidates, at.consistency, at.costs, scope, options, dearest, &singles_);
  made.diagnoses = merge(made.found.explanations, scope, at.consistency, at.landing, at.costs);
  rank(made.diagnoses);
  made.touched = at.consistency.watched();
  made.nets_relabelled = at.consistency.nets_relabelled() - relabelled_before;
  return made;
}

/// What every scope is asked first, by several threads; the answers are remembered.
void Explaining::explain_first(const std::vector<LinkedScope>& scopes) {
  std::vector<Asked> asked;
  for (const LinkedScope& scope : scopes)
    if (Asked one = first_asked(scope); remembered_.count(one) == 0) asked.push_back(std::move(one));
  std::vector<Remembered> made(asked.size());
  for_each_in_own_place(options_.threads, asked.size(), own_, [&](std::size_t i, const Workplace& place) {
    made[i] = search(asked[i], place);
    // Those are counted already.
    if (&place == &own_) made[i].nets_relabelled = 0;
  });
  for (std::size_t i = 0; i < asked.size(); ++i) {
    expanded_ += made[i].found.expanded;
    nets_relabelled_elsewhere_ += made[i].nets_relabelled;
    remembered_.emplace(std::move(asked[i]), std::move(made[i]));
  }
}

Cluster Explaining::explain_one(Scope scope, double dearest, std::size_t max_sets,
                                const std::optional<Candidate>& with) {
  Asked asked{std::move(scope), dearest, max_sets, std::nullopt};
  if (with) std::get<3>(asked) = {with->fault, with->cost};
  auto known = remembered_.find(asked);
  if (known == remembered_.end()) {
    known = remembered_.emplace(asked, search(asked, own_)).first;
    expanded_ += known->second.found.expanded;
  }
  const SearchResult& found = known->second.found;
  Cluster made;
  made.readings = std::move(std::get<0>(asked));
  made.complete_up_to = found.is_partial ? 0 : options_.max_faults;
  made.cost_limit = found.cost_limit;
  made.cut_short = found.gave_up;
  made.too_many = found.has_too_many_singles;
  made.diagnoses = known->second.diagnoses;
  return made;
}

/// Explained together readings may cost no more than apart, and are found soon.
Explaining::Asked Explaining::first_asked(const LinkedScope& linked) {
  if (linked.parts.size() == 1) return {linked.readings, k_any_cost, k_no_limit, std::nullopt};
  constexpr double k_same = 1e-9;
  return {linked.readings, linked.cost_apart + k_same, k_most_sets_together, std::nullopt};
}

/// Together only if that costs no more than apart, and is found soon: apart they are explained in any case.
std::vector<Cluster> Explaining::explain_linked(const LinkedScope& linked) {
  if (linked.parts.size() == 1) return split(explain_one(linked.readings));
  const auto [scope, dearest, max_sets, with] = first_asked(linked);
  Cluster whole = explain_one(scope, dearest, max_sets);
  if (!whole.diagnoses.empty() && whole.complete_up_to != 0) return split(std::move(whole));
  std::vector<Cluster> clusters;
  for (const Scope& part : linked.parts)
    for (Cluster& one : split(explain_one(part))) clusters.push_back(std::move(one));
  return clusters;
}

/// Readings may have been linked by a fault that then explains nothing better than separate ones do. Where
/// the faults of the likeliest explanation each account for readings of their own, those are clusters of
/// their own, as long as explaining them apart costs no more.
std::vector<Cluster> Explaining::split(Cluster whole) {
  std::vector<Scope> scopes = scopes_by_fault(whole);
  std::vector<Cluster> parts;
  double cost = 0;
  for (Scope& scope : scopes) {
    parts.push_back(explain_one(std::move(scope)));
    if (parts.back().diagnoses.empty())
      cost = 1e300;
    else
      cost += parts.back().diagnoses.front().cost;
  }
  constexpr double k_same = 1e-9;
  if (parts.size() < 2 || cost > whole.diagnoses.front().cost + k_same) {
    parts.clear();
    parts.push_back(std::move(whole));
  }
  return parts;
}

/// Groups the readings by the faults that take part in explaining them: faults that explain one together,
/// or each alone, stay together.
std::vector<Scope> Explaining::scopes_by_fault(const Cluster& whole) const {
  if (whole.diagnoses.empty() || whole.diagnoses.front().faults.size() < 2) return {};
  const std::vector<Fault>& faults = whole.diagnoses.front().faults;
  std::vector<std::size_t> group(faults.size());
  for (std::size_t i = 0; i < group.size(); ++i) group[i] = i;
  const auto unite = [&](std::size_t into, std::size_t from) {
    const std::size_t old = group[from], kept = group[into];
    std::replace(group.begin(), group.end(), old, kept);
  };
  std::vector<std::size_t> fault_of(whole.readings.size());
  for (std::size_t r = 0; r < whole.readings.size(); ++r) {
    std::vector<std::size_t> takers;
    for (std::size_t i = 0; i < faults.size(); ++i)
      if (consistency_.explains_reading({&faults[i], 1}, whole.readings[r])) takers.push_back(i);
    if (takers.empty())
      for (std::size_t i = 0; i < faults.size(); ++i) takers.push_back(i);
    for (const std::size_t i : takers) unite(takers.front(), i);
    fault_of[r] = takers.front();
  }
  std::map<std::size_t, Scope> scopes;
  for (std::size_t r = 0; r < whole.readings.size(); ++r)
    scopes[group[fault_of[r]]].push_back(whole.readings[r]);
  std::vector<Scope> made;
  for (auto& [key, scope] : scopes) made.push_back(std::move(scope));
  return made;
}

}  // namespace ringtrue
