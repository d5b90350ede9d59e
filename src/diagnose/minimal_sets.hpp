#pragma once
#include <algorithm>
#include <optional>
#include <queue>
#include <set>
#include <vector>

namespace ringtrue {

/// Something that may be in an explanation, and what it costs.
template <class Item>
struct Choice {
  Item item{};
  double cost = 0;
};

/// A set of items with the sum of their costs.
template <class Item>
struct CostedSet {
  std::vector<Item> items;  ///< sorted
  double cost = 0;
};

/// Up to where a search goes.
struct SearchLimits {
  std::size_t max_items = 3;
  double max_cost = 1e9;
  double least_item_cost = 0;  ///< no item costs less
  std::size_t max_sets = 20'000;
  std::size_t max_choices = 20'000;  ///< in one branch set
};

/// Finds all minimal sets of items that a problem accepts, cheapest first.
///
/// A set that the problem doesn't accept is extended by each item of a branch set, of which every accepted
/// superset of it holds at least one; so nothing is missed (the hitting-set tree of Reiter 1987, from memory,
/// with branch sets computed at each node and without relabelling, so that the correction of Greiner, Smith
/// and Wilkerson 1989 isn't needed). An accepted superset of an accepted set is not minimal and is left out.
///
/// `Problem` has
/// - `using Item`, ordered
/// - `branch(set, room, is_last)`: nothing if the set is accepted, else the items to extend it by that cost
/// at
///   most `room`; with `is_last` only those that may do it alone
/// - `accepts(set)`: the same question, asked for a set that has no room for a further item
template <class Problem>
class MinimalSets {
 public:
  using Item = typename Problem::Item;
  using Set = CostedSet<Item>;

  MinimalSets(Problem& problem, const SearchLimits& limits) : problem_(problem), limits_(limits) {}

  /// Minimal accepted sets, by cost, then by items. From a seed on only supersets of it are looked at: of
  /// those that come out none holds another, though it may hold an accepted set without the seed.
  std::vector<Set> run(Set seed = {}) {
    queue_.push(std::move(seed));
    while (!queue_.empty() && !gave_up()) {
      const Set set = queue_.top();
      queue_.pop();
      if (!holds_found(set.items)) expand(set);
    }
    return minimal();
  }
  /// Sets tried.
  [[nodiscard]] std::size_t expanded() const { return expanded_; }
  /// Stopped before everything was tried, as soon as it was clear that this takes more than the limits.
  [[nodiscard]] bool gave_up() const { return expanded_ > limits_.max_sets || is_too_wide_; }

 private:
  struct Later {
    bool operator()(const Set& x, const Set& y) const {
      return x.cost != y.cost ? x.cost > y.cost : x.items > y.items;
    }
  };

  /// A further item that leaves no room, in number or cost, for another one has to do alone.
  [[nodiscard]] bool is_last(const Set& set, double cost) const {
    return set.items.size() + 1 >= limits_.max_items ||
           set.cost + cost + limits_.least_item_cost > limits_.max_cost;
  }

  void expand(const Set& set) {
    ++expanded_;
    const auto choices =
        problem_.branch(set.items, limits_.max_cost - set.cost, is_last(set, limits_.least_item_cost));
    if (!choices) return keep(set);
    is_too_wide_ = choices->size() > limits_.max_choices;
    if (is_too_wide_) return;
    for (const Choice<Item>& choice : *choices) extend(set, choice);
  }

  void keep(const Set& set) {
    if (set.items.size() == 1) singles_.insert(set.items.front());
    found_.push_back(set);
    if (set.items.size() != 1) larger_.push_back(set.items);
  }

  void extend(const Set& set, const Choice<Item>& choice) {
    Set next{set.items, set.cost + choice.cost};
    next.items.insert(std::lower_bound(next.items.begin(), next.items.end(), choice.item), choice.item);
    if (next.cost > limits_.max_cost || !seen_.insert(next.items).second || holds_found(next.items)) return;
    if (!is_last(set, choice.cost)) return queue_.push(std::move(next));
    ++expanded_;
    if (problem_.accepts(next.items)) keep(next);
  }

  /// Some smaller or equal set was found.
  [[nodiscard]] bool holds_found(const std::vector<Item>& items) const {
    return holds_single(items) || holds_larger(items, 0);
  }
  [[nodiscard]] bool holds_single(const std::vector<Item>& items) const {
    return std::any_of(items.begin(), items.end(),
                       [&](const Item& item) { return singles_.count(item) != 0; });
  }
  /// `fewer`: only sets with at least so many items less.
  [[nodiscard]] bool holds_larger(const std::vector<Item>& items, std::size_t fewer) const {
    return std::any_of(larger_.begin(), larger_.end(), [&](const std::vector<Item>& found) {
      return found.size() + fewer <= items.size() &&
             std::includes(items.begin(), items.end(), found.begin(), found.end());
    });
  }

  /// Sets that had no room were accepted out of order, so that a smaller one may have come after them.
  std::vector<Set> minimal() {
    std::vector<Set> kept;
    for (Set& one : found_)
      if (one.items.size() == 1 || (!holds_single(one.items) && !holds_larger(one.items, 1)))
        kept.push_back(std::move(one));
    std::sort(kept.begin(), kept.end(), [](const Set& x, const Set& y) {
      return x.cost != y.cost ? x.cost < y.cost : x.items < y.items;
    });
    return kept;
  }

  Problem& problem_;
  SearchLimits limits_;
  std::priority_queue<Set, std::vector<Set>, Later> queue_;
  std::set<std::vector<Item>> seen_;
  std::vector<Set> found_;
  std::set<Item> singles_;                 ///< of the found sets
  std::vector<std::vector<Item>> larger_;  ///< the others
  std::size_t expanded_ = 0;
  bool is_too_wide_ = false;
};

}  // namespace ringtrue
