// A probe that stays on a device's pin for the next reading saves its `pin`; apart from these savings, the
// pins of a walk are the same in any order. So the effort of a step, less what it saves, is the same both
// ways, and a run of readings can be turned back to front without adding up its inside again.
#include "walk_order.hpp"

#include <algorithm>
#include <array>
#include <limits>

namespace ringtrue {

namespace {

constexpr std::uint32_t k_none = std::numeric_limits<std::uint32_t>::max();
constexpr double k_least_gain = 1e-9;  ///< beyond rounding
/// Neighbours looked at in each direction of each list.
constexpr int k_neighbours = 2;
/// Places along the walk within which runs are reversed and readings moved. On made-up panels of 1,000 and
/// 10,000 readings greedy alone took up to 1 % more moving (the sorted order, bettered, 2 to 12 %); a window
/// of 50, and moving runs of up to three readings as well, saved 0.7 % at most, for five to ten times the
/// time.
constexpr std::ptrdiff_t k_window = 10;
/// Rounds go on while they help, up to so many readings gone through: above that greedy has to do.
constexpr std::size_t k_most_gone_through = 200'000;

/// Ends of readings (2 * leg + which) in a sorted order, from which readings are taken one by one. The links
/// of what was taken last still lead to its neighbours.
class EndList {
 public:
  using Key = std::array<std::uint32_t, 4>;

  template <class KeyOf>
  EndList(std::size_t legs, KeyOf&& key_of) : links_(2 * legs, {k_none, k_none}) {
    std::vector<std::pair<Key, std::uint32_t>> order;
    order.reserve(2 * legs);
    for (std::uint32_t end = 0; end < 2 * legs; ++end) order.emplace_back(key_of(end), end);
    std::sort(order.begin(), order.end());
    for (std::size_t i = 0; i + 1 < order.size(); ++i) {
      links_[order[i].second][1] = order[i + 1].second;
      links_[order[i + 1].second][0] = order[i].second;
    }
  }

  void take(std::uint32_t leg) {
    for (const std::uint32_t end : {2 * leg, 2 * leg + 1})
      for (const std::size_t way : {0u, 1u})
        if (links_[end][way] != k_none) links_[links_[end][way]][1 - way] = links_[end][1 - way];
  }

  /// The legs next to one just taken.
  template <class Visit>
  void visit_beside(std::uint32_t leg, Visit&& visit) const {
    for (const std::uint32_t end : {2 * leg, 2 * leg + 1})
      for (const std::size_t way : {0u, 1u}) {
        std::uint32_t next = links_[end][way];
        if (next != k_none && next / 2 == leg) next = links_[next][way];  // its own other end
        for (int i = 0; i < k_neighbours && next != k_none; ++i, next = links_[next][way]) visit(next / 2);
      }
  }

 private:
  std::vector<std::array<std::uint32_t, 2>> links_;  ///< before and after
};

class Walk {
 public:
  Walk(std::vector<Leg>& legs, const WalkStops& stops) : legs_(legs), stops_(stops) {}

  void order() {
    start();
    turn_each();
    for (std::size_t gone_through = legs_.size(); gone_through <= k_most_gone_through;
         gone_through += legs_.size()) {
      const double before = effort();
      reverse_runs();
      for (Index i = 0; i < size(); ++i) move_reading(i);
      turn_each();
      if (effort() > before - k_least_gain) return;
    }
  }

 private:
  using Index = std::ptrdiff_t;
  [[nodiscard]] Index size() const { return static_cast<Index>(legs_.size()); }
  Leg& leg(Index i) { return legs_[static_cast<std::size_t>(i)]; }

  static void turn(Leg& leg) {
    std::swap(leg.at[0], leg.at[1]);
    leg.is_turned = !leg.is_turned;
  }

  /// Effort of moving the probes from one reading to the next, less the pins saved.
  [[nodiscard]] double step(const Leg& a, const Leg& b, bool turned = false) const {
    double effort = 0;
    for (const int probe : {0, 1}) {
      const Stop &from = a.at[probe], &to = b.at[turned ? 1 - probe : probe];
      effort += from.point == to.point ? -from.pin : stops_.apart(from, to);
    }
    return effort;
  }
  /// The same by places in the walk; nothing before its start and after its end.
  [[nodiscard]] double step(Index a, Index b, bool turned = false) {
    return a < 0 || b < 0 || a >= size() || b >= size() ? 0 : step(leg(a), leg(b), turned);
  }
  [[nodiscard]] double effort() {
    double sum = 0;
    for (Index i = 0; i + 1 < size(); ++i) sum += step(i, i + 1);
    return sum;
  }

  void start() {
    const std::vector<Leg> given = legs_;
    const double given_effort = effort();
    sort();
    take_nearest();
    if (effort() > given_effort) legs_ = given;
  }

  /// Those of the same two parts together, along the earlier one.
  void sort() {
    for (Leg& leg : legs_)
      if (!leg.is_fixed && leg.at[1].rank < leg.at[0].rank) turn(leg);
    const auto key = [](const Leg& leg) {
      const bool swapped = leg.at[1].rank < leg.at[0].rank;
      const Stop &low = leg.at[swapped ? 1 : 0], &high = leg.at[swapped ? 0 : 1];
      return std::array{low.part, high.part, low.rank, high.rank, leg.reading};
    };
    std::sort(legs_.begin(), legs_.end(), [&](const Leg& x, const Leg& y) { return key(x) < key(y); });
  }

  void take_nearest() {
    const auto own = [&](std::uint32_t end) -> const Stop& { return legs_[end / 2].at[end % 2]; };
    const auto other = [&](std::uint32_t end) -> const Stop& { return legs_[end / 2].at[1 - end % 2]; };
    // By point: what a parked probe still has to do. By pair of parts: what stays between them.
    EndList by_point(legs_.size(), [&](std::uint32_t end) {
      return EndList::Key{own(end).rank, other(end).rank, 0, 0};
    });
    EndList by_parts(legs_.size(), [&](std::uint32_t end) {
      return EndList::Key{own(end).part, other(end).part, own(end).rank, other(end).rank};
    });
    std::vector<Leg> walk = {legs_.front()};
    walk.reserve(legs_.size());
    std::uint32_t last = 0;
    while (true) {
      by_point.take(last);
      by_parts.take(last);
      if (walk.size() == legs_.size()) break;
      std::uint32_t nearest = k_none;
      bool turned = false;
      double least = 0;
      const auto consider = [&](std::uint32_t next) {
        for (const bool turning : {false, true}) {
          if (turning && legs_[next].is_fixed) continue;
          const double effort = step(walk.back(), legs_[next], turning);
          if (nearest != k_none && (effort > least || (effort == least && next >= nearest))) continue;
          nearest = next, turned = turning, least = effort;
        }
      };
      by_point.visit_beside(last, consider);
      by_parts.visit_beside(last, consider);
      walk.push_back(legs_[last = nearest]);
      if (turned) turn(walk.back());
    }
    legs_ = std::move(walk);
  }

  /// Turns the readings that may be turned in the best way for their order (dynamic programming).
  void turn_each() {
    std::vector<std::array<bool, 2>> turned_before(legs_.size());
    constexpr double never = std::numeric_limits<double>::infinity();
    std::array<double, 2> least = {0, legs_.front().is_fixed ? never : 0};
    for (Index i = 1; i < size(); ++i) {
      const double same = step(i - 1, i), across = step(i - 1, i, true);
      std::array<double, 2> next{};
      for (const bool turned : {false, true}) {
        const double keep = least[turned] + same, change = least[!turned] + across;
        turned_before[static_cast<std::size_t>(i)][turned] = change < keep ? !turned : turned;
        next[turned] = turned && leg(i).is_fixed ? never : std::min(keep, change);
      }
      least = next;
    }
    bool turned = least[1] < least[0];
    for (Index i = size() - 1; i >= 0; --i) {
      const bool before = turned_before[static_cast<std::size_t>(i)][turned];
      if (turned) turn(leg(i));
      turned = before;
    }
  }

  void reverse_runs() {
    for (Index first = 0; first < size(); ++first) {
      bool may_turn = true;
      for (Index last = first; last < std::min(size(), first + k_window); ++last) {
        may_turn = may_turn && !leg(last).is_fixed;
        const double now = step(first - 1, first) + step(last, last + 1);
        for (const bool turned : {false, true}) {
          if (turned && !may_turn) continue;
          if (step(first - 1, last, turned) + step(first, last + 1, turned) > now - k_least_gain) continue;
          std::reverse(legs_.begin() + first, legs_.begin() + last + 1);
          if (turned) std::for_each(&leg(first), &leg(last) + 1, turn);
          break;
        }
      }
    }
  }

  /// Puts a reading between two others nearby where that takes less effort.
  void move_reading(Index i) {
    const double saved = step(i - 1, i) + step(i, i + 1) - step(i - 1, i + 1);
    if (saved < k_least_gain) return;
    for (Index to = std::max<Index>(0, i - k_window); to <= std::min(size(), i + 1 + k_window); ++to) {
      if (to == i || to == i + 1) continue;
      for (const bool turned : {false, true}) {
        if (turned && leg(i).is_fixed) continue;
        if (step(to - 1, i, turned) + step(i, to, turned) - step(to - 1, to) > saved - k_least_gain) continue;
        if (turned) turn(leg(i));
        const auto from = legs_.begin() + i, before = legs_.begin() + to;
        to < i ? std::rotate(before, from, from + 1) : std::rotate(from, from + 1, before);
        return;
      }
    }
  }

  std::vector<Leg>& legs_;
  const WalkStops& stops_;
};

}  // namespace

void put_in_order(std::vector<Leg>& legs, const WalkStops& stops) {
  if (!legs.empty()) Walk(legs, stops).order();
}

}  // namespace ringtrue
