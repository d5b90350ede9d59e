// Conflict-driven best-first search. A node is a set of assumed faults. A node that still leaves a reading
// impossible is extended by the branch set of one such reading; every explanation that contains the node's
// set contains one of those faults, so nothing is missed (Candidates). Nodes are taken by cost, so
// explanations come cheapest first.
//
// The fault universe is large (every end to every net), nearly all of it too improbable to matter. So the
// search runs in rounds with a rising cost ceiling, and within a round a fault is only made where its cost
// still fits under the ceiling. As soon as a round finds something, one last round goes to the cost that
// `least_share` asks for.
#include "search.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>
#include <set>

namespace ringtrue {

namespace {

struct Node {
  std::vector<Fault> faults;
  double cost = 0;
};
struct CostsMore {
  bool operator()(const Node& x, const Node& y) const {
    if (x.cost != y.cost) return x.cost > y.cost;
    return x.faults > y.faults;
  }
};

class Round {
 public:
  Round(const Candidates& candidates, const Consistency& consistency, const Landing& landing,
        const Scope& scope, std::size_t max_faults, double ceiling, std::size_t max_sets)
      : candidates_(candidates),
        consistency_(consistency),
        scope_(scope),
        max_faults_(max_faults),
        max_sets_(max_sets),
        ceiling_(ceiling),
        least_(landing.least_cost()) {}

  void run() {
    queue_.push({});
    while (!queue_.empty() && !gave_up()) {
      const Node node = queue_.top();
      queue_.pop();
      ++expanded_;
      const std::vector<ReadingId> wrong = consistency_.mispredicted(node.faults, scope_);
      if (wrong.empty())
        found_.push_back({node.faults, node.cost});
      else if (!holds_found(node.faults))
        expand(node, wrong);
    }
  }

  std::vector<Explanation> take() {
    std::sort(found_.begin(), found_.end(), [](const Explanation& x, const Explanation& y) {
      return x.cost != y.cost ? x.cost < y.cost : x.faults < y.faults;
    });
    std::vector<Explanation> minimal;
    for (Explanation& one : found_) {
      const bool is_superset = std::any_of(minimal.begin(), minimal.end(), [&](const Explanation& smaller) {
        return std::includes(one.faults.begin(), one.faults.end(), smaller.faults.begin(),
                             smaller.faults.end());
      });
      if (!is_superset) minimal.push_back(std::move(one));
    }
    return minimal;
  }
  [[nodiscard]] std::size_t expanded() const { return expanded_; }
  [[nodiscard]] bool gave_up() const { return expanded_ > max_sets_; }

 private:
  /// A further fault that leaves no room, in number or cost, for another one after it has to explain
  /// everything.
  [[nodiscard]] bool is_last(const Node& node, double cost) const {
    return node.faults.size() + 1 == max_faults_ || node.cost + cost + least_ > ceiling_;
  }

  void expand(const Node& node, const std::vector<ReadingId>& wrong) {
    if (node.faults.size() >= max_faults_ || node.cost + least_ > ceiling_) return;
    const double room = ceiling_ - node.cost;
    const bool only_last = is_last(node, least_);
    for (const Candidate& candidate :
         smallest_branch_set(node, wrong, room, only_last ? Reach::alone : Reach::with_others))
      extend(node, candidate, wrong);
  }

  /// Any wrongly predicted reading will do; a few are tried, since a short path or a small net branches less.
  std::vector<Candidate> smallest_branch_set(const Node& node, const std::vector<ReadingId>& wrong,
                                             double room, Reach reach) const {
    constexpr std::size_t k_tried = 4;
    std::vector<Candidate> smallest;
    const std::size_t step = std::max<std::size_t>(1, wrong.size() / k_tried);
    for (std::size_t i = 0; i < wrong.size(); i += step) {
      std::vector<Candidate> set = candidates_.branch_set(node.faults, wrong[i], room, reach);
      if (set.empty()) return set;
      if (i == 0 || set.size() < smallest.size()) smallest = std::move(set);
    }
    return smallest;
  }

  void extend(const Node& node, const Candidate& candidate, const std::vector<ReadingId>& wrong) {
    Node next{node.faults, node.cost + candidate.cost};
    next.faults.insert(std::lower_bound(next.faults.begin(), next.faults.end(), candidate.fault),
                       candidate.fault);
    if (!seen_.insert(next.faults).second || holds_found(next.faults)) return;
    if (!is_last(node, candidate.cost)) return queue_.push(std::move(next));
    ++expanded_;
    for (const ReadingId reading : {wrong.front(), wrong.back()})
      if (!consistency_.explains_reading(next.faults, reading)) return;
    if (consistency_.explains(next.faults, scope_)) found_.push_back({std::move(next.faults), next.cost});
  }

  [[nodiscard]] bool holds_found(const std::vector<Fault>& faults) const {
    return std::any_of(found_.begin(), found_.end(), [&](const Explanation& found) {
      return std::includes(faults.begin(), faults.end(), found.faults.begin(), found.faults.end());
    });
  }

  const Candidates& candidates_;
  const Consistency& consistency_;
  const Scope& scope_;
  std::size_t max_faults_, max_sets_;
  double ceiling_, least_;
  std::priority_queue<Node, std::vector<Node>, CostsMore> queue_;
  std::set<std::vector<Fault>> seen_;
  std::vector<Explanation> found_;
  std::size_t expanded_ = 0;
};

class Search {
 public:
  Search(const Candidates& candidates, const Consistency& consistency, const Landing& landing,
         const Scope& scope, const DiagnoseOptions& options)
      : candidates_(candidates),
        consistency_(consistency),
        landing_(landing),
        scope_(scope),
        options_(options) {}

  SearchResult run() {
    constexpr std::array<double, 6> k_ceilings{12, 16, 20, 26, 34, 1e9};
    for (const double ceiling : k_ceilings) {
      const bool found = round(options_.max_faults, ceiling);
      if (!gave_up_) result_.cost_limit = ceiling;
      if (found) widen(ceiling);
      if (found || gave_up_) break;
    }
    if (landing_.graph().conductor_count() <= k_every_single_up_to && options_.max_faults > 0) add_singles();
    add_doubts();
    return std::move(result_);
  }

 private:
  /// True if the round found anything.
  bool round(std::size_t max_faults, double ceiling) {
    Round one(candidates_, consistency_, landing_, scope_, max_faults, ceiling, options_.max_sets);
    one.run();
    gave_up_ = one.gave_up();
    result_.expanded += one.expanded();
    result_.explanations = one.take();
    return !result_.explanations.empty();
  }

  /// The list goes on to `least_share` of the first one's probability, and not to wherever the ceiling
  /// happened to be.
  void widen(double ceiling) {
    const double limit = result_.explanations.front().cost - std::log(options_.least_share);
    if (limit > ceiling) round(options_.max_faults, limit);
    auto& list = result_.explanations;
    list.erase(std::remove_if(list.begin(), list.end(), [&](const Explanation& e) { return e.cost > limit; }),
               list.end());
    if (!gave_up_) result_.cost_limit = limit;
  }

  void add_singles() {
    Round singles(candidates_, consistency_, landing_, scope_, 1, 1e9, options_.max_sets);
    singles.run();
    result_.expanded += singles.expanded();
    std::vector<Explanation> all = singles.take();
    for (Explanation& one : result_.explanations)
      if (one.faults.size() > 1) all.push_back(std::move(one));
    std::sort(all.begin(), all.end(), [](const Explanation& x, const Explanation& y) {
      return x.cost != y.cost ? x.cost < y.cost : x.faults < y.faults;
    });
    result_.explanations = std::move(all);
  }

  /// A reading that copper would have explained and that only a load at some fitting value still can is even
  /// odds at best.
  void add_doubts() {
    for (Explanation& one : result_.explanations)
      one.cost += static_cast<double>(consistency_.left_to_loads(one.faults, scope_)) * std::log(2.0);
    std::stable_sort(result_.explanations.begin(), result_.explanations.end(),
                     [](const Explanation& x, const Explanation& y) { return x.cost < y.cost; });
  }

  const Candidates& candidates_;
  const Consistency& consistency_;
  const Landing& landing_;
  const Scope& scope_;
  const DiagnoseOptions& options_;
  SearchResult result_;
  bool gave_up_ = false;
};

}  // namespace

SearchResult explain(const Candidates& candidates, const Consistency& consistency, const Landing& landing,
                     const Scope& scope, const DiagnoseOptions& options) {
  return Search(candidates, consistency, landing, scope, options).run();
}

}  // namespace ringtrue
