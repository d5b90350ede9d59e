#include "splits.hpp"

#include <cmath>

namespace ringtrue::power {

Splits::Splits(const std::vector<double>& weights, const std::vector<std::uint8_t>& can_split, SplitBy by)
    : by_(by), count_(weights.size()), ranges_((count_ + 1) * (count_ + 1)) {
  for (std::size_t i = 0; i < count_; ++i) range(i, i + 1) = {i, 0, weights[i], 0};
  for (std::size_t length = 2; length <= count_; ++length)
    for (std::size_t from = 0; from + length <= count_; ++from) fill(from, from + length, can_split);
}

std::optional<std::size_t> Splits::first() const {
  if (count_ < 2 || whole().split == 0) return std::nullopt;
  return whole().split;
}

VoltagesLeft Splits::left() const {
  if (count_ == 0) return {};
  return {whole().at_most, whole().cost / whole().sum};
}

void Splits::fill(std::size_t from, std::size_t to, const std::vector<std::uint8_t>& can_split) {
  Range& best = range(from, to);
  best = {from, 0, range(from, from + 1).sum + range(from + 1, to).sum, 0};
  for (std::size_t at = from + 1; at < to; ++at) {
    if (can_split[at] == 0) continue;
    const Range &before = range(from, at), &behind = range(at, to);
    const Range made{at, 1 + std::max(before.at_most, behind.at_most), best.sum,
                     best.sum + before.cost + behind.cost};
    if (best.split == from || is_better(made, best, from, to)) best = made;
  }
}

/// Of equal ones that nearer to the middle.
bool Splits::is_better(const Range& one, const Range& other, std::size_t from, std::size_t to) const {
  const double tolerance = 1e-9 * other.cost;
  const bool is_cheaper = one.cost<other.cost - tolerance, is_dearer = one.cost> other.cost + tolerance;
  if (by_ == SplitBy::priors && (is_cheaper || is_dearer)) return is_cheaper;
  if (one.at_most != other.at_most) return one.at_most < other.at_most;
  const auto off_centre = [&](const Range& made) {
    return std::abs(static_cast<double>(2 * made.split) - static_cast<double>(from + to));
  };
  return off_centre(one) < off_centre(other);
}

}  // namespace ringtrue::power
