#pragma once
#include <map>
#include <utility>
#include <vector>

#include "clusters.hpp"
#include "landing.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "search.hpp"

namespace ringtrue {

/// Explains the disagreements of a comparison, cluster by cluster, and remembers what stays true while
/// readings are added.
///
/// What was found for a scope stays complete and sound as long as each of its explanations leaves every
/// further agreeing reading possible: a reading only takes explanations away, and a set that holds a listed
/// one is not minimal, with the further reading called bad or not. What was found for the clusters stays as
/// it is as long as no single fault that it rests on is refuted.
class Explaining {
 public:
  Explaining(const Consistency& consistency, const Candidates& candidates, const Landing& landing,
             const Costs& costs, const DiagnoseOptions& options)
      : consistency_(consistency),
        candidates_(candidates),
        landing_(landing),
        costs_(costs),
        options_(options),
        graph_(consistency.graph()) {}

  [[nodiscard]] const std::vector<Cluster>& clusters() const { return clusters_; }
  /// Sets of faults tried so far.
  [[nodiscard]] std::size_t expanded() const { return expanded_; }

  /// Explains all disagreements; scopes that were explained before are not explained again.
  void run();
  /// Takes in a further reading; true if the clusters are still right as they are.
  bool keeps(ReadingId reading);
  /// Forgets everything, since there are more faults to choose from.
  void forget() { remembered_.clear(); }

 private:
  void add_faults_across(const std::vector<Candidate>& faults);
  [[nodiscard]] std::vector<std::size_t> clusters_explained_by(const Fault& fault) const;
  void explain_values(Cluster& cluster) const;
  Cluster explain_one(Scope scope, double dearest = k_any_cost, std::size_t max_sets = k_no_limit);
  std::vector<Cluster> explain_linked(const LinkedScope& linked);
  [[nodiscard]] std::vector<ReadingId> contradiction(const Scope& scope);
  std::vector<Cluster> split(Cluster whole);
  [[nodiscard]] std::vector<Scope> scopes_by_fault(const Cluster& whole) const;
  bool merge_masking(std::vector<Cluster>& clusters);
  [[nodiscard]] std::vector<std::size_t> clusters_at(ReadingId reading,
                                                     const std::vector<Cluster>& clusters) const;
  [[nodiscard]] std::vector<std::size_t> those_in_the_way(const std::vector<std::size_t>& involved,
                                                          ReadingId reading,
                                                          const std::vector<Cluster>& clusters) const;
  [[nodiscard]] bool ohms_were_read(const Scope& scope) const;
  [[nodiscard]] bool is_remembered(const Scope& scope) const;
  /// The faults leave the reading possible, and not to the unknown value of a load.
  [[nodiscard]] bool allows(std::span<const Fault> faults, ReadingId reading) const;

  static constexpr std::size_t k_no_limit = static_cast<std::size_t>(-1);

  const Consistency& consistency_;
  const Candidates& candidates_;
  const Landing& landing_;
  const Costs& costs_;
  const DiagnoseOptions& options_;
  const ConductionGraph& graph_;
  std::vector<Cluster> clusters_;
  std::map<std::pair<Scope, double>, SearchResult> remembered_;  ///< by readings and dearest cost
  std::vector<Fault> unrefuted_;                                 ///< single faults that the clusters rest on
  std::vector<Fault> together_;                                  ///< the likeliest of every cluster
  bool was_cut_short_ = false;    ///< some search of the last run gave up; it might not with other readings
  std::size_t expanded_ = 0;
};

}  // namespace ringtrue
