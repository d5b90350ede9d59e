// Where the explanations of several clusters meet: faults that stand in each other's way, faults that hold
// only together, and single ones that explain several clusters.
#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "classes.hpp"
#include "explaining.hpp"

namespace ringtrue {

void Explaining::sort_by_first_reading() {
  std::sort(clusters_.begin(), clusters_.end(),
            [](const Cluster& x, const Cluster& y) { return x.readings < y.readings; });
}

/// Puts one cluster in the place of several.
void Explaining::replace(const std::vector<std::size_t>& joined, Cluster made) {
  for (auto i = joined.rbegin(); i != joined.rend(); ++i)
    clusters_.erase(clusters_.begin() + static_cast<std::ptrdiff_t>(*i));
  clusters_.push_back(std::move(made));
  sort_by_first_reading();
}

Scope Explaining::scope_of(const std::vector<std::size_t>& clusters) const {
  Scope scope;
  for (const std::size_t i : clusters)
    scope.insert(scope.end(), clusters_[i].readings.begin(), clusters_[i].readings.end());
  std::sort(scope.begin(), scope.end());
  return scope;
}

double Explaining::cost_apart(const std::vector<std::size_t>& clusters) const {
  double cost = 0;
  for (const std::size_t i : clusters) cost += clusters_[i].diagnoses.front().cost;
  return cost;
}

/// Clusters of which each reading is possible with the faults.
std::vector<std::size_t> Explaining::clusters_explained_by(std::span<const Fault> faults) {
  const auto explains = [&](ReadingId reading) {
    if (!consistency_.can_change(faults, reading)) return false;
    return faults.size() == 1 ? singles_.explains(singles_.id(faults.front()), reading)
                              : consistency_.explains_reading(faults, reading);
  };
  std::vector<std::size_t> explained;
  for (std::size_t c = 0; c < clusters_.size(); ++c) {
    const Scope& scope = clusters_[c].readings;
    if (!clusters_[c].diagnoses.empty() && std::all_of(scope.begin(), scope.end(), explains))
      explained.push_back(c);
  }
  return explained;
}

/// A fault may explain some of several clusters, or contradict a reading that agrees, unless there's another
/// one. Where a pair explains what takes more faults apart, and is likelier than those, the
/// clusters are one. The pair that saves most; true if there is any.
bool Explaining::join_by_pair(const std::vector<Candidate>& faults) {
  Saving best;
  for (const Candidate& fault : faults) {
    const std::vector<std::size_t> concerned = clusters_with_a_reading_explained_by(fault.fault);
    if (concerned.size() < 2) continue;
    const double dearest = cost_apart(concerned);
    if (dearest <= fault.cost + costs_.least() + best.saved) continue;
    for (const auto& whole : {concerned, clusters_explained_by({&fault.fault, 1})})
      if (!whole.empty()) try_pairs(fault, whole, dearest, best);
  }
  if (best.joined.empty()) return false;
  Cluster made = explain_one(scope_of(best.joined), best.dearest, k_most_sets_together, best.fault);
  if (made.diagnoses.empty()) return false;
  replace(best.joined, std::move(made));
  return true;
}

/// Of the likeliest pairs with the fault that explain some clusters: whether one of them saves more, with all
/// other clusters that it explains.
void Explaining::try_pairs(const Candidate& fault, const std::vector<std::size_t>& clusters, double dearest,
                           Saving& best) {
  constexpr std::size_t k_most_pairs = 8;
  const Cluster found = explain_one(scope_of(clusters), dearest, k_most_sets_together, fault);
  for (std::size_t i = 0; i < found.diagnoses.size() && i < k_most_pairs; ++i) {
    const std::vector<Fault>& pair = found.diagnoses[i].faults;
    const std::vector<std::size_t> all = clusters_explained_by(pair);
    const double saved = cost_apart(all) - found.diagnoses[i].cost;
    std::size_t apart = 0;
    for (const std::size_t c : all) apart += clusters_[c].diagnoses.front().faults.size();
    if (saved > best.saved && apart > pair.size() && consistency_.explains(pair, scope_of(all)))
      best = {saved, fault, all, cost_apart(all)};
  }
}

std::vector<std::size_t> Explaining::clusters_with_a_reading_explained_by(const Fault& fault) {
  const SingleFaults::Id id = singles_.id(fault);
  std::vector<std::size_t> found;
  for (std::size_t c = 0; c < clusters_.size(); ++c) {
    const Scope& scope = clusters_[c].readings;
    if (!clusters_[c].diagnoses.empty() && std::any_of(scope.begin(), scope.end(), [&](ReadingId reading) {
          return consistency_.can_change({&fault, 1}, reading) && singles_.explains(id, reading);
        }))
      found.push_back(c);
  }
  return found;
}

/// Takes the likeliest explanation of every cluster together. If a reading then comes out impossible, two
/// of them stand in each other's way: they are explained again as one, if anything explains them so. True if
/// any were.
bool Explaining::merge_masking() {
  std::vector<Fault> together;
  std::vector<std::vector<Fault>> apart;
  std::vector<std::size_t> explained;
  for (std::size_t c = 0; c < clusters_.size(); ++c) {
    if (clusters_[c].diagnoses.empty()) continue;
    explained.push_back(c);
    const auto& faults = apart.emplace_back(clusters_[c].diagnoses.front().faults);
    together.insert(together.end(), faults.begin(), faults.end());
  }
  conflicts_.clear();
  for (const ReadingId reading : consistency_.contradicted_together(apart, together, scope_of(explained))) {
    const std::vector<std::size_t> involved = those_in_the_way(clusters_at(reading), reading);
    const auto is_known = [&](const Conflict& known) { return known.clusters == involved; };
    if (involved.size() < 2 || std::any_of(conflicts_.begin(), conflicts_.end(), is_known)) continue;
    Cluster made = explain_one(scope_of(involved), k_any_cost, k_most_sets_together);
    if (made.diagnoses.empty()) {
      conflicts_.push_back({involved, reading});
      continue;
    }
    replace(involved, std::move(made));
    return true;
  }
  return false;
}

/// The first two of the clusters whose likeliest explanations together make the reading impossible; all of
/// them if no two do.
std::vector<std::size_t> Explaining::those_in_the_way(const std::vector<std::size_t>& involved,
                                                      ReadingId reading) const {
  for (std::size_t x = 0; x < involved.size(); ++x)
    for (std::size_t y = x + 1; y < involved.size(); ++y) {
      std::vector<Fault> both = clusters_[involved[x]].diagnoses.front().faults;
      const auto& other = clusters_[involved[y]].diagnoses.front().faults;
      both.insert(both.end(), other.begin(), other.end());
      if (!consistency_.explains_reading(both, reading)) return {involved[x], involved[y]};
    }
  return involved;
}

/// Clusters whose likeliest explanation touches a net at rest of one of the probes.
std::vector<std::size_t> Explaining::clusters_at(ReadingId reading) const {
  std::vector<std::size_t> involved;
  for (std::size_t i = 0; i < clusters_.size(); ++i) {
    if (clusters_[i].diagnoses.empty()) continue;
    const auto& faults = clusters_[i].diagnoses.front().faults;
    const bool own = std::binary_search(clusters_[i].readings.begin(), clusters_[i].readings.end(), reading);
    if (own || consistency_.can_change(faults, reading)) involved.push_back(i);
  }
  return involved;
}

/// Two conductors that seem open may be exchanged with each other, wherever they are.
void Explaining::add_exchanged_conductors(std::vector<Candidate>& faults) {
  constexpr std::size_t k_most = 4;  // per cluster, the likeliest
  std::vector<std::vector<ElementId>> open(clusters_.size());
  for (std::size_t c = 0; c < clusters_.size(); ++c)
    for (const Diagnosis& diagnosis : clusters_[c].diagnoses) {
      const Fault& fault = diagnosis.faults.front();
      if (diagnosis.faults.size() == 1 && fault.kind == FaultKind::open &&
          landing_.is_movable(fault.element) && open[c].size() < k_most)
        open[c].push_back(fault.element);
    }
  struct OpenEnd {
    std::size_t cluster;
    ElementId conductor;
    End end;
    double cost;  ///< of the cluster
  };
  std::vector<OpenEnd> ends;  // in the order of the clusters
  for (std::size_t c = 0; c < clusters_.size(); ++c)
    for (const ElementId e : open[c])
      for (const End end : {End::a, End::b}) ends.push_back({c, e, end, clusters_[c].diagnoses.front().cost});
  const auto part_of = [this](const OpenEnd& one) {
    return landing_.points_beside(landing_.drawn(one.conductor, one.end)).front();
  };
  const auto exchange = [&](const OpenEnd& one, const OpenEnd& other) {
    if (one.end == End::a && one.cluster < other.cluster)
      add_exchange(one.conductor, other.conductor, other.end, one.cluster, other.cluster, faults);
  };
  std::unordered_map<PointId, std::vector<OpenEnd>> ends_on;  // by part
  for (const OpenEnd& one : ends) ends_on[part_of(one)].push_back(one);
  for (const auto& [part, near] : ends_on)
    for (const OpenEnd& one : near)
      for (const OpenEnd& other : near) exchange(one, other);
  // In a large plant an exchange across parts costs more than most could save, so the dearest are tried
  // first.
  std::vector<OpenEnd> dearest = ends;
  std::stable_sort(dearest.begin(), dearest.end(),
                   [](const OpenEnd& x, const OpenEnd& y) { return x.cost > y.cost; });
  const double far = ends.empty() ? 0 : costs_.swap(PointId{0}, Nearness::elsewhere);
  for (const OpenEnd& one : ends) {
    const double least = far + std::log(options_.least_single_share) - one.cost;
    for (auto other = dearest.begin(); other != dearest.end() && other->cost >= least; ++other)
      if (part_of(one) != part_of(*other)) exchange(one, *other);
  }
}

void Explaining::add_exchange(ElementId e, ElementId f, End end, std::size_t c, std::size_t d,
                              std::vector<Candidate>& faults) {
  const PointId one = landing_.drawn(e, End::a), other = landing_.drawn(f, end);
  if (e == f || landing_.block(one) == landing_.block(other)) return;
  const Candidate made{swap_fault(e, End::a, f, end), costs_.swap(one, landing_.nearness(one, other))};
  const double apart = clusters_[c].diagnoses.front().cost + clusters_[d].diagnoses.front().cost -
                       std::log(options_.least_single_share);
  if (made.cost > apart) return;
  const SingleFaults::Id id = singles_.id(made.fault);
  for (const std::size_t of : {c, d})
    for (const ReadingId reading : clusters_[of].readings)
      if (!singles_.explains(id, reading)) return;
  if (singles_.is_unrefuted(id)) faults.push_back(made);
}

/// Lists a fault that explains several clusters in each of them, at what it costs beside explaining the
/// others apart.
void Explaining::add_faults_across(const std::vector<Candidate>& faults) {
  std::map<std::vector<std::size_t>, std::vector<Explanation>> by_clusters;
  for (const Candidate& one : faults)
    if (std::vector<std::size_t> explained = clusters_explained_by({&one.fault, 1}); explained.size() > 1)
      by_clusters[std::move(explained)].push_back({{one.fault}, one.cost});
  std::vector<double> best;
  for (const Cluster& cluster : clusters_)
    best.push_back(cluster.diagnoses.empty() ? 0 : cluster.diagnoses.front().cost);
  for (auto& [explained, explanations] : by_clusters) {
    const Scope scope = scope_of(explained);
    double apart = 0;
    for (const std::size_t c : explained) apart += best[c];
    const double dearest = apart - std::log(options_.least_single_share);
    // Doubts may yet make one cheaper by as much as a single one costs.
    std::erase_if(explanations, [&](const Explanation& e) {
      return e.cost > dearest + k_cost_of_doubt || !singles_.is_unrefuted(singles_.id(e.items.front()));
    });
    add_doubts(explanations, [&](const std::vector<Fault>& set) { return consistency_.doubts(set, scope); });
    std::erase_if(explanations, [&](const Explanation& e) { return e.cost > dearest; });
    for (const Diagnosis& made : merge(std::move(explanations), scope, consistency_, landing_, costs_))
      for (const std::size_t c : explained) {
        Diagnosis& listed = clusters_[c].diagnoses.emplace_back(made);
        listed.cost -= apart - best[c];
        listed.also_explains = explained;
        std::erase(listed.also_explains, c);
      }
  }
  for (Cluster& cluster : clusters_) rank(cluster.diagnoses);
}

}  // namespace ringtrue
