#include "ringtrue/base/nearest_names.hpp"

#include <algorithm>

namespace ringtrue {

namespace {

char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b, std::size_t limit) {
  if (a.size() > b.size()) std::swap(a, b);
  if (b.size() - a.size() > limit) return limit + 1;
  // Three rows are enough: an exchange looks two rows back. Of each row only the cells that `limit` steps can
  // reach from the diagonal, and one beside them on each side that counts as too far.
  const std::size_t band = std::min(limit, b.size()), width = b.size() + 1;
  std::vector<std::size_t> cells(3 * width);
  std::size_t *before = cells.data(), *last = before + width, *now = last + width;
  for (std::size_t j = 0; j <= b.size(); ++j) last[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    const std::size_t first = i > band ? i - band : 1, end = std::min(i + band, b.size());
    now[first - 1] = first == 1 ? i : limit + 1;
    std::size_t least = now[first - 1];
    for (std::size_t j = first; j <= end; ++j) {
      const bool same = lower(a[i - 1]) == lower(b[j - 1]);
      now[j] = std::min({last[j] + 1, now[j - 1] + 1, last[j - 1] + (same ? 0u : 1u)});
      if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]))
        now[j] = std::min(now[j], before[j - 2] + 1);
      least = std::min(least, now[j]);
    }
    if (least > limit) return limit + 1;
    if (end < b.size()) now[end + 1] = limit + 1;
    std::swap(before, last);
    std::swap(last, now);
  }
  return std::min(last[b.size()], limit + 1);
}

NearestNames::NearestNames(std::string_view wanted, std::size_t how_many)
    : wanted_(wanted), how_many_(how_many), limit_(std::max<std::size_t>(1, wanted.size() / 3)) {}

void NearestNames::offer(std::string_view name) {
  const std::size_t distance = edit_distance(wanted_, name, limit_);
  if (distance > limit_) return;
  const auto before = [](const Candidate& x, const Candidate& y) {
    return x.distance != y.distance ? x.distance < y.distance : x.name < y.name;
  };
  Candidate candidate{distance, std::string(name)};
  best_.insert(std::lower_bound(best_.begin(), best_.end(), candidate, before), std::move(candidate));
  if (best_.size() <= how_many_) return;
  best_.pop_back();
  limit_ = best_.back().distance;
}

std::vector<std::string> NearestNames::take() {
  std::vector<std::string> names;
  for (Candidate& candidate : best_) names.push_back(std::move(candidate.name));
  best_.clear();
  return names;
}

}  // namespace ringtrue
