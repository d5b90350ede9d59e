#include <algorithm>
#include <array>
#include <limits>

#include "logic/pairs.hpp"

// A pair is entered by one member and left by the other. Up to eight pairs: Held and Karp 1962 over sets of
// pairs done, the last pair and its direction. More: always the nearest next.

namespace ringtrue::logic {

namespace {

constexpr std::size_t k_most_exact = 8;

const Choice& entry(const Pair& pair, bool is_turned) {
  return (is_turned ? pair.second : pair.first).front().choice;
}

class PairOrder {
 public:
  PairOrder(const std::vector<Pair>& pairs, const Choice& rest) : pairs_(pairs), rest_(rest) {}

  struct Visit {
    std::size_t pair;
    bool is_turned;
  };

  [[nodiscard]] std::vector<Visit> nearest_next() const {
    std::vector<Visit> order;
    std::vector<bool> done(pairs_.size());
    Choice at = rest_;
    while (order.size() < pairs_.size()) {
      Visit best{0, false};
      std::uint32_t least = std::numeric_limits<std::uint32_t>::max();
      for (std::size_t i = 0; i < pairs_.size(); ++i)
        for (const bool is_turned : {false, true})
          if (const auto cost = changes_between(at, entry(pairs_[i], is_turned)); !done[i] && cost < least) {
            least = cost;
            best = {i, is_turned};
          }
      done[best.pair] = true;
      at = entry(pairs_[best.pair], !best.is_turned);
      order.push_back(best);
    }
    return order;
  }

  [[nodiscard]] std::vector<Visit> fewest_changes() const {
    const std::size_t last_places = pairs_.size() * 2, sets = std::size_t{1} << pairs_.size();
    constexpr std::uint32_t k_unknown = std::numeric_limits<std::uint32_t>::max();
    std::vector<std::uint32_t> cost(sets * last_places, k_unknown);
    std::vector<std::uint32_t> from(sets * last_places, k_none);
    for (std::size_t v = 0; v < last_places; ++v)
      cost[(std::size_t{1} << v / 2) * last_places + v] =
          changes_between(rest_, entry(pairs_[v / 2], v % 2 != 0));
    for (std::size_t set = 1; set < sets; ++set)
      for (std::size_t v = 0; v < last_places; ++v) {
        const std::uint32_t so_far = cost[set * last_places + v];
        if (so_far == k_unknown) continue;
        for (std::size_t w = 0; w < last_places; ++w) {
          if ((set >> w / 2 & 1u) != 0) continue;
          const std::size_t then = (set | std::size_t{1} << w / 2) * last_places + w;
          const std::uint32_t sum =
              so_far + changes_between(entry(pairs_[v / 2], v % 2 == 0), entry(pairs_[w / 2], w % 2 != 0));
          if (sum >= cost[then]) continue;
          cost[then] = sum;
          from[then] = static_cast<std::uint32_t>(set * last_places + v);
        }
      }
    const auto whole = cost.end() - static_cast<std::ptrdiff_t>(last_places);
    auto at = static_cast<std::uint32_t>(std::min_element(whole, cost.end()) - cost.begin());
    std::vector<Visit> order;
    for (; at != k_none; at = from[at]) order.push_back({at % last_places / 2, at % 2 != 0});
    std::reverse(order.begin(), order.end());
    return order;
  }

 private:
  const std::vector<Pair>& pairs_;
  const Choice& rest_;
};

}  // namespace

void order_pairs(Drive& drive) {
  if (!drive.is_chained || drive.pairs.empty()) return;
  const Choice rest = drive.pairs.front().prior.front().choice;
  const PairOrder order(drive.pairs, rest);
  const bool is_small = drive.pairs.size() <= k_most_exact;
  std::vector<Pair> ordered;
  for (const auto& visit : is_small ? order.fewest_changes() : order.nearest_next()) {
    ordered.push_back(drive.pairs[visit.pair]);
    if (visit.is_turned) std::swap(ordered.back().first, ordered.back().second);
  }
  drive.pairs = std::move(ordered);
  drive.is_exact_order &= is_small;
}

}  // namespace ringtrue::logic
