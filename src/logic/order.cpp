#include <algorithm>
#include <limits>
#include <numeric>

#include "logic/pairs.hpp"

// Chained tests: a shortest path through all of them, Held and Karp 1962 over sets of tests done and the last
// of them. More than ten: always the nearest next.

namespace ringtrue::logic {

namespace {

constexpr std::size_t k_most_exact = 10;
using Order = std::vector<std::size_t>;

const Choice& choice_of(const Trial& test) { return test.steps.front().choice; }

Order nearest_next(const std::vector<Trial>& tests, const Choice& rest) {
  Order order;
  std::vector<bool> done(tests.size());
  const Choice* at = &rest;
  while (order.size() < tests.size()) {
    std::size_t best = tests.size();
    for (std::size_t i = 0; i < tests.size(); ++i)
      if (!done[i] && (best == tests.size() || changes_between(*at, choice_of(tests[i])) <
                                                   changes_between(*at, choice_of(tests[best]))))
        best = i;
    done[best] = true;
    at = &choice_of(tests[best]);
    order.push_back(best);
  }
  return order;
}

Order fewest_changes(const std::vector<Trial>& tests, const Choice& rest) {
  const std::size_t count = tests.size(), sets = std::size_t{1} << count;
  constexpr std::uint32_t k_unknown = std::numeric_limits<std::uint32_t>::max();
  std::vector<std::uint32_t> cost(sets * count, k_unknown), from(sets * count, k_none);
  for (std::size_t v = 0; v < count; ++v)
    cost[(std::size_t{1} << v) * count + v] = changes_between(rest, choice_of(tests[v]));
  for (std::size_t set = 1; set < sets; ++set)
    for (std::size_t v = 0; v < count; ++v) {
      const std::uint32_t so_far = cost[set * count + v];
      if (so_far == k_unknown) continue;
      for (std::size_t w = 0; w < count; ++w) {
        if ((set >> w & 1u) != 0) continue;
        const std::size_t then = (set | std::size_t{1} << w) * count + w;
        const std::uint32_t sum = so_far + changes_between(choice_of(tests[v]), choice_of(tests[w]));
        if (sum >= cost[then]) continue;
        cost[then] = sum;
        from[then] = static_cast<std::uint32_t>(set * count + v);
      }
    }
  const auto whole = cost.end() - static_cast<std::ptrdiff_t>(count);
  auto at = static_cast<std::uint32_t>(std::min_element(whole, cost.end()) - cost.begin());
  Order order;
  for (; at != k_none; at = from[at]) order.push_back(at % count);
  std::reverse(order.begin(), order.end());
  return order;
}

/// Where the prior state of each test was met first.
std::vector<std::size_t> groups_of(const std::vector<Trial>& tests) {
  const auto is_same = [](const Step& a, const Step& b) {
    return a.kind == b.kind && a.choice == b.choice && a.wait_ms == b.wait_ms;
  };
  std::vector<std::size_t> groups;
  for (const Trial& test : tests) {
    std::size_t group = 0;
    while (!std::equal(tests[group].prior.begin(), tests[group].prior.end(), test.prior.begin(),
                       test.prior.end(), is_same))
      ++group;
    groups.push_back(group);
  }
  return groups;
}

Order by_prior_state(const PairSet& set) {
  const std::vector<std::size_t> groups = groups_of(set.tests);
  std::vector<std::size_t> uses(set.tests.size()), base(set.tests.size());
  for (const Pair& pair : set.pairs) ++uses[pair.first], ++uses[pair.second];
  Order order(set.tests.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  for (const std::size_t i : order) {
    std::size_t& first = base[groups[i]];
    if (groups[i] == i || uses[i] > uses[first]) first = i;
  }
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    if (groups[a] != groups[b]) return groups[a] < groups[b];
    return a == base[groups[a]] && b != a;
  });
  return order;
}

}  // namespace

void order_tests(PairSet& set, const Choice& rest) {
  if (set.tests.empty()) return;
  const bool is_small = set.tests.size() <= k_most_exact;
  set.is_exact_order = !set.is_chained || is_small;
  const Order order = !set.is_chained ? by_prior_state(set)
                      : is_small      ? fewest_changes(set.tests, rest)
                                      : nearest_next(set.tests, rest);
  std::vector<std::size_t> place(order.size());
  std::vector<Trial> ordered;
  for (std::size_t i = 0; i < order.size(); ++i) {
    place[order[i]] = i;
    ordered.push_back(std::move(set.tests[order[i]]));
  }
  set.tests = std::move(ordered);
  for (Pair& pair : set.pairs) {
    pair.first = place[pair.first];
    pair.second = place[pair.second];
    if (pair.first > pair.second) std::swap(pair.first, pair.second);
  }
}

}  // namespace ringtrue::logic
