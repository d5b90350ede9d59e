#pragma once
#include <map>
#include <optional>
#include <tuple>
#include <vector>

#include "clusters.hpp"
#include "ringtrue/diagnose/diagnose.hpp"
#include "search.hpp"
#include "single_faults.hpp"
#include "workplace.hpp"

namespace ringtrue {

/// Explains the disagreements of a comparison, cluster by cluster, and remembers what stays true while
/// readings are added.
///
/// What was found for a scope stays complete and sound as long as each of its explanations leaves every
/// further agreeing reading possible: a reading only takes explanations away, and a set that holds a listed
/// one is not minimal, with the further reading called bad or not. Whatever was found, or given up, stays as
/// it is if no fault that was tried can change the further reading. The clusters stay as they are as long as
/// no single fault that they rest on is refuted.
class Explaining {
 public:
  Explaining(const Workplace& own, const DiagnoseOptions& options)
      : own_(own),
        consistency_(own.consistency),
        candidates_(own.candidates),
        landing_(own.landing),
        costs_(own.costs),
        options_(options),
        graph_(consistency_.graph()),
        singles_(own) {}

  [[nodiscard]] const std::vector<Cluster>& clusters() const { return clusters_; }
  /// They are gone from here then.
  [[nodiscard]] std::vector<Cluster> take_clusters() { return std::move(clusters_); }
  [[nodiscard]] const std::vector<Conflict>& conflicts() const { return conflicts_; }
  /// Sets of faults tried so far.
  [[nodiscard]] std::size_t expanded() const { return expanded_; }
  /// Nets labelled anew for that.
  [[nodiscard]] std::size_t nets_relabelled() const {
    return consistency_.nets_relabelled() + nets_relabelled_elsewhere_;
  }

  /// Explains all disagreements; scopes that were explained before are not explained again.
  void run();
  /// Takes in a further reading; true if the clusters are still right as they are.
  bool keeps(ReadingId reading);
  /// Forgets everything, since there are more faults to choose from.
  void forget();

 private:
  /// What a search found, and what it rests on.
  struct Remembered {
    SearchResult found;
    std::vector<Diagnosis> diagnoses;  ///< made of it
    std::vector<NetId> touched;        ///< by the faults tried
    std::size_t nets_relabelled = 0;
  };
  struct Contradiction {
    std::vector<ReadingId> readings;
    std::vector<NetId> touched;
  };
  /// A scope, the greatest cost and most sets, and maybe a fault that each set has to hold.
  using Asked = std::tuple<Scope, double, std::size_t, std::optional<std::pair<Fault, double>>>;
  void add_exchanged_conductors(std::vector<Candidate>& faults);
  void add_exchange(ElementId e, ElementId f, End end, std::size_t c, std::size_t d,
                    std::vector<Candidate>& faults);
  void add_faults_across(const std::vector<Candidate>& faults);
  [[nodiscard]] std::vector<std::size_t> clusters_explained_by(std::span<const Fault> faults);
  [[nodiscard]] std::vector<std::size_t> clusters_with_a_reading_explained_by(const Fault& fault);
  [[nodiscard]] Scope scope_of(const std::vector<std::size_t>& clusters) const;
  [[nodiscard]] double cost_apart(const std::vector<std::size_t>& clusters) const;
  void sort_by_first_reading();
  void replace(const std::vector<std::size_t>& joined, Cluster made);
  void explain_values(Cluster& cluster) const;
  /// `with`: only by pairs that hold this fault.
  Cluster explain_one(Scope scope, double dearest = k_any_cost, std::size_t max_sets = k_no_limit,
                      const std::optional<Candidate>& with = std::nullopt);
  [[nodiscard]] static Asked first_asked(const LinkedScope& linked);
  [[nodiscard]] Remembered search(const Asked& asked, const Workplace& at) const;
  void explain_first(const std::vector<LinkedScope>& scopes);
  std::vector<Cluster> explain_linked(const LinkedScope& linked);
  [[nodiscard]] const std::vector<ReadingId>& contradiction(const Scope& scope);
  std::vector<Cluster> split(Cluster whole);
  [[nodiscard]] std::vector<Scope> scopes_by_fault(const Cluster& whole) const;
  /// What a pair of faults saves beside explaining some clusters apart.
  struct Saving {
    double saved = 1e-9;
    Candidate fault;  ///< of the pair
    std::vector<std::size_t> joined;
    double dearest = 0;
  };
  bool join_by_pair(const std::vector<Candidate>& faults);
  void try_pairs(const Candidate& fault, const std::vector<std::size_t>& clusters, double dearest,
                 Saving& best);
  bool merge_masking();
  [[nodiscard]] std::vector<std::size_t> clusters_at(ReadingId reading) const;
  [[nodiscard]] std::vector<std::size_t> those_in_the_way(const std::vector<std::size_t>& involved,
                                                          ReadingId reading) const;
  /// The faults leave the reading possible, whatever the unknown values of loads are.
  [[nodiscard]] bool allows(std::span<const Fault> faults, ReadingId reading) const;

  static constexpr std::size_t k_no_limit = static_cast<std::size_t>(-1);
  /// Sets tried for what can be explained apart as well.
  static constexpr std::size_t k_most_sets_together = 2'000;

  const Workplace& own_;
  const Consistency& consistency_;
  const Candidates& candidates_;
  const Landing& landing_;
  const Costs& costs_;
  const DiagnoseOptions& options_;
  const ConductionGraph& graph_;
  std::vector<Cluster> clusters_;
  std::vector<Conflict> conflicts_;
  SingleFaults singles_;  ///< on which the clusters rest
  std::map<Asked, Remembered> remembered_;
  std::map<Scope, Contradiction> contradictions_;
  std::vector<Fault> together_;      ///< the likeliest of every cluster
  std::vector<NetId> wide_rest_on_;  ///< see Clustering
  bool is_forgotten_ = false;        ///< the clusters rest on what was forgotten
  std::size_t expanded_ = 0;
  std::size_t nets_relabelled_elsewhere_ = 0;  ///< by other threads
};

}  // namespace ringtrue
