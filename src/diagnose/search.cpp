// The fault universe is large (every end to every piece of copper), nearly all of it too improbable to
// matter. So the search for minimal sets runs in rounds with a rising cost ceiling, and within a round a
// fault is only made where its cost still fits under the ceiling. As soon as a round finds something, one
// last round goes to the cost that `least_share` asks for.
#include "search.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

#include "minimal_sets.hpp"

namespace ringtrue {

namespace {

/// Explaining a scope by faults, as a problem for MinimalSets.
class ByFaults {
 public:
  using Item = Fault;

  /// `most`: wider sets than that need not be made whole. `singles` may be null.
  ByFaults(const Candidates& candidates, const Consistency& consistency, const SingleFaults* singles,
           const Scope& scope, std::size_t most)
      : candidates_(candidates), consistency_(consistency), singles_(singles), scope_(scope), most_(most) {}

  std::optional<std::vector<Choice<Fault>>> branch(const std::vector<Fault>& faults, double room,
                                                   bool is_last) {
    const std::vector<ReadingId>& wrong = mispredicted(faults);
    if (wrong.empty()) return std::nullopt;
    first_wrong_ = wrong.front(), last_wrong_ = wrong.back();
    std::vector<Choice<Fault>> choices;
    for (const Candidate& candidate :
         smallest_branch_set(faults, wrong, room, is_last ? Reach::alone : Reach::with_others))
      choices.push_back({candidate.fault, candidate.cost});
    return choices;
  }

  bool accepts(const std::vector<Fault>& faults) {
    const auto [at, is_new] = explained_.try_emplace(faults);
    // What most sets fail at: the readings that were wrong without the last fault.
    if (is_new) at->second = consistency_.explained(faults, scope_, {first_wrong_, last_wrong_});
    return at->second.has_value();
  }

  /// Of an accepted set.
  [[nodiscard]] Consistency::Doubts doubts(const std::vector<Fault>& faults) const {
    const auto known = explained_.find(faults);
    return known != explained_.end() && known->second ? *known->second : consistency_.doubts(faults, scope_);
  }

 private:
  // Every round asks of the same sets again, and of some more.
  const std::vector<ReadingId>& mispredicted(const std::vector<Fault>& faults) {
    const auto [at, is_new] = mispredicted_.try_emplace(faults);
    if (is_new) at->second = consistency_.mispredicted(faults, scope_);
    return at->second;
  }

  /// Any wrongly predicted reading will do; a few are tried, since a short path or a small net branches less:
  /// first those whose sets were small before. What has to do alone has to be in the sets of all of them.
  std::vector<Candidate> smallest_branch_set(const std::vector<Fault>& faults,
                                             const std::vector<ReadingId>& wrong, double room, Reach reach) {
    constexpr std::size_t k_small = 16, k_wider = 4;
    std::vector<Candidate> smallest;
    std::vector<ReadingId> wide;  // left out so far
    for (const auto& [before, reading] : some_of(wrong)) {
      const bool is_first = smallest.empty();
      if (!is_first && (smallest.size() <= k_small || smallest.size() <= before / 4)) break;
      std::vector<Candidate> set = branch_set(faults, reading, room, reach);
      size_before_[reading] = set.size();
      const bool is_whole = set.size() <= most_;
      if (!is_whole) wide.push_back(reading);
      if (!is_first && is_whole && reach == Reach::alone && smallest.size() <= most_)
        smallest = in_both(std::move(smallest), std::move(set));
      else if (is_first || set.size() < smallest.size())
        smallest = std::move(set);
      if (smallest.empty()) return smallest;
    }
    if (reach == Reach::with_others || smallest.size() > most_) return smallest;
    for (const ReadingId reading : wide) {
      if (smallest.size() <= k_small) break;
      std::vector<Candidate> set = candidates_.branch_set(faults, reading, room, reach, k_wider * most_);
      if (set.size() <= k_wider * most_) smallest = in_both(std::move(smallest), std::move(set));
    }
    return smallest;
  }

  [[nodiscard]] std::vector<Candidate> branch_set(const std::vector<Fault>& faults, ReadingId reading,
                                                  double room, Reach reach) const {
    if (singles_ != nullptr && faults.empty() && reach == Reach::alone)
      if (auto known = singles_->known_to_explain(reading, room)) return std::move(*known);
    return candidates_.branch_set(faults, reading, room, reach, most_);
  }

  /// A few of the readings with the sizes of their branch sets before, smallest first.
  std::vector<std::pair<std::size_t, ReadingId>> some_of(const std::vector<ReadingId>& readings) {
    constexpr std::size_t k_tried = 4;
    std::vector<std::pair<std::size_t, ReadingId>> some;
    const std::size_t step = std::max<std::size_t>(1, readings.size() / k_tried);
    for (std::size_t i = 0; i < readings.size(); i += step)
      some.emplace_back(size_before_[readings[i]], readings[i]);
    std::sort(some.begin(), some.end());
    return some;
  }

  static std::vector<Candidate> in_both(std::vector<Candidate> x, std::vector<Candidate> y) {
    if (x.size() > y.size()) std::swap(x, y);
    std::vector<Fault> others;
    for (const Candidate& one : y) others.push_back(one.fault);
    std::sort(others.begin(), others.end());
    std::erase_if(x, [&](const Candidate& one) {
      return !std::binary_search(others.begin(), others.end(), one.fault);
    });
    return x;
  }

  const Candidates& candidates_;
  const Consistency& consistency_;
  const SingleFaults* singles_;
  const Scope& scope_;
  std::size_t most_;
  ReadingId first_wrong_ = ReadingId::none, last_wrong_ = ReadingId::none;
  std::unordered_map<ReadingId, std::size_t> size_before_;  ///< of branch sets
  std::map<std::vector<Fault>, std::optional<Consistency::Doubts>> explained_;
  std::map<std::vector<Fault>, std::vector<ReadingId>> mispredicted_;
};

class Search {
 public:
  Search(const Candidates& candidates, const Consistency& consistency, const Costs& costs,
         const SingleFaults* singles, const Scope& scope, const DiagnoseOptions& options, double dearest)
      : consistency_(consistency),
        costs_(costs),
        scope_(scope),
        options_(options),
        dearest_(dearest),
        problem_(candidates, consistency, singles, scope, options.max_choices) {}

  SearchResult run() {
    constexpr std::array<double, 6> k_ceilings{12, 16, 20, 26, 34, k_any_cost};
    for (const double least_ceiling : k_ceilings) {
      const double ceiling = std::min(least_ceiling, dearest_);
      Round made = round(options_.max_faults, ceiling);
      result_.explanations = std::move(made.found);
      result_.is_partial = !made.is_whole;
      if (!made.is_whole) break;
      result_.cost_limit = ceiling;
      if (!result_.explanations.empty()) widen();
      if (!result_.explanations.empty() || ceiling == dearest_) break;
    }
    add_doubts(result_.explanations,
               [this](const std::vector<Fault>& faults) { return problem_.doubts(faults); });
    return std::move(result_);
  }

 private:
  struct Round {
    std::vector<Explanation> found;
    bool is_whole;
  };
  /// All minimal explanations up to a cost; the cheapest of them if that would take too many sets.
  Round round(std::size_t max_faults, double ceiling) {
    MinimalSets sets(problem_,
                     {max_faults, ceiling, costs_.least(), options_.max_sets, options_.max_choices});
    Round made{sets.run(), !sets.gave_up()};
    result_.expanded += sets.expanded();
    result_.gave_up = result_.gave_up || sets.gave_up();
    return made;
  }

  /// The list goes on to `least_share` of the first one's probability, and not to wherever the ceiling
  /// happened to be; single faults, which are few enough, further.
  void widen() {
    const double first = result_.explanations.front().cost;
    const double limit = first - std::log(options_.least_share);
    bool is_whole = true;
    if (limit > result_.cost_limit) {
      Round wider = round(options_.max_faults, limit);
      is_whole = wider.is_whole;
      if (is_whole) result_.explanations = std::move(wider.found);
    }
    std::erase_if(result_.explanations, [&](const Explanation& e) { return e.cost > limit; });
    if (is_whole) result_.cost_limit = limit;
    const double single_limit = first - std::log(options_.least_single_share);
    if (result_.cost_limit < single_limit) add_singles(single_limit);
  }

  void add_singles(double limit) {
    Round singles = round(1, limit);
    result_.has_too_many_singles = !singles.is_whole;
    if (!singles.is_whole) return;
    for (Explanation& one : result_.explanations)
      if (one.items.size() > 1) singles.found.push_back(std::move(one));
    result_.explanations = std::move(singles.found);
  }

  const Consistency& consistency_;
  const Costs& costs_;
  const Scope& scope_;
  const DiagnoseOptions& options_;
  double dearest_;
  ByFaults problem_;
  SearchResult result_;
};

}  // namespace

void add_doubts(std::vector<Explanation>& explanations,
                const std::function<Consistency::Doubts(const std::vector<Fault>&)>& doubts_of) {
  for (Explanation& one : explanations) {
    const Consistency::Doubts doubts = doubts_of(one.items);
    // Beeps that a set settles may all be over one load.
    const double settled = doubts.settled != 0 ? 1 : 0;
    one.cost += (static_cast<double>(doubts.left) - settled) * k_cost_of_doubt;
  }
  std::sort(explanations.begin(), explanations.end(), [](const Explanation& x, const Explanation& y) {
    return x.cost != y.cost ? x.cost < y.cost : x.items < y.items;
  });
}

SearchResult explain(const Candidates& candidates, const Consistency& consistency, const Costs& costs,
                     const Scope& scope, const DiagnoseOptions& options, double dearest,
                     const SingleFaults* singles) {
  return Search(candidates, consistency, costs, singles, scope, options, dearest).run();
}

SearchResult explain_by_pair(const Candidate& fault, const Candidates& candidates,
                             const Consistency& consistency, const Costs& costs, const Scope& scope,
                             const DiagnoseOptions& options, double dearest) {
  ByFaults problem(candidates, consistency, nullptr, scope, options.max_choices);
  SearchResult result;
  result.gave_up = result.is_partial = true;
  MinimalSets sets(problem, {2, dearest, costs.least(), options.max_sets, options.max_choices});
  result.explanations = sets.run({{fault.fault}, fault.cost});
  result.expanded = sets.expanded();
  std::erase_if(result.explanations, [&](const Explanation& one) {
    for (std::size_t i = 0; i < one.items.size(); ++i) {
      std::vector<Fault> fewer = one.items;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      if (!fewer.empty() && consistency.explains(fewer, scope)) return true;
    }
    return one.cost >= dearest;
  });
  add_doubts(result.explanations, [&](const std::vector<Fault>& faults) { return problem.doubts(faults); });
  return result;
}

}  // namespace ringtrue
