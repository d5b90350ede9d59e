#include "cover.hpp"

#include <algorithm>
#include <array>

namespace ringtrue {

Cover::Cover(const View& view, std::span<const PointId> points, const std::vector<std::uint8_t>& wanted,
             std::vector<std::uint32_t>& number_of)
    : view_(view), numbering_(view, number_of) {
  for (const PointId p : points) numbering_.add(p);
  find_places(wanted);
  count_branches();
}

/// Terminals before pins of a device, which are harder to reach; else the one that came first.
PointId Cover::handier(PointId p, PointId q) const {
  const auto is_terminal = [this](PointId at) {
    return index(at) < view_.graph().point_count() && view_.graph().netlist().points.side(at) != Side::single;
  };
  return !is_terminal(p) && is_terminal(q) ? q : p;
}

void Cover::find_places(const std::vector<std::uint8_t>& wanted) {
  const auto& points = numbering_.points();
  std::vector<std::uint32_t> place_of(points.size());
  for (std::uint32_t number = 0; number < points.size(); ++number) {
    const Numbering::Point& point = points[number];
    const bool is_root = point.parent == number;
    const bool is_parted = !is_root && numbering_.is_single(number) && wanted[index(point.by)] != 0;
    if (is_root || is_parted) {
      const auto own = static_cast<std::uint32_t>(places_.size());
      const std::uint32_t parent = is_root ? own : place_of[point.parent];
      places_.push_back({parent, is_root ? 0 : places_[parent].depth + 1, point.by, point.point});
      place_of[number] = own;
    } else {
      place_of[number] = place_of[point.parent];
      Place& place = places_[place_of[number]];
      place.probe = handier(place.probe, point.point);
    }
  }
}

void Cover::count_branches() {
  branch_start_.assign(places_.size() + 1, 0);
  for (std::uint32_t place = 0; place < places_.size(); ++place)
    if (!is_root(place)) ++branch_start_[places_[place].parent + 1];
  for (std::size_t i = 0; i < places_.size(); ++i) branch_start_[i + 1] += branch_start_[i];
  branches_.resize(branch_start_.back());
  std::vector<std::uint32_t> next(branch_start_.begin(), branch_start_.end() - 1);
  for (std::uint32_t place = 0; place < places_.size(); ++place)
    if (!is_root(place)) branches_[next[places_[place].parent]++] = place;
}

std::size_t Cover::least_readings() const {
  std::size_t least = 0;
  for (std::uint32_t place = 0; place < places_.size();) {
    std::size_t leaves = 0;
    do leaves += degree(place) == 1 ? 1u : 0u;
    while (++place < places_.size() && !is_root(place));
    least += (leaves + 1) / 2;
  }
  return least;
}

bool Cover::is_single(ElementId e) const {
  const std::uint32_t a = numbering_.number(view_.end_a(e)), b = numbering_.number(view_.end_b(e));
  const std::uint32_t child = std::max(a, b);
  return a != b && child != Numbering::k_unseen && numbering_.points()[child].by == e &&
         numbering_.is_single(child);
}

namespace {

constexpr std::size_t k_most_ends = 2;

}  // namespace

std::vector<Stretch> Cover::readings() const {
  std::vector<Stretch> made;
  std::vector<std::array<OpenEnd, k_most_ends>> passed_on(places_.size());
  std::vector<std::uint8_t> count(places_.size(), 0);
  std::vector<OpenEnd> ends;
  for (auto place = static_cast<std::uint32_t>(places_.size()); place-- > 0;) {
    ends.clear();
    for (std::uint32_t i = branch_start_[place]; i < branch_start_[place + 1]; ++i)
      for (std::uint8_t k = 0; k < count[branches_[i]]; ++k) {
        ends.push_back(passed_on[branches_[i]][k]);
        ends.back().branch = branches_[i];
      }
    if (degree(place) == 1) ends.push_back({places_[place].probe, place, place});
    if (is_root(place) && ends.size() % 2 != 0)
      ends.push_back({places_[place].probe, place, place});  // anything beyond the branch of the odd one
    const std::size_t kept = is_root(place) ? 0 : ends.size() % 2 == 0 ? k_most_ends : 1;
    // Those that came up two by two wait on, one of each branch, so that the rest can be paired across.
    std::stable_sort(ends.begin(), ends.end(),
                     [](const OpenEnd& x, const OpenEnd& y) { return x.branch < y.branch; });
    for (std::size_t i = 0; i + 1 < ends.size() && count[place] < kept;)
      if (ends[i].branch == ends[i + 1].branch) {
        passed_on[place][count[place]++] = ends[i];
        ends.erase(ends.begin() + static_cast<std::ptrdiff_t>(i));
        ++i;
      } else {
        ++i;
      }
    while (count[place] < kept && !ends.empty()) {
      passed_on[place][count[place]++] = ends.back();
      ends.pop_back();
    }
    pair(ends, made);
  }
  std::reverse(made.begin(), made.end());
  return made;
}

/// Pairs an even number of ends across branches, at most half of them from one. Sorted by branch.
void Cover::pair(std::vector<OpenEnd>& ends, std::vector<Stretch>& made) const {
  const std::size_t half = ends.size() / 2;
  const bool are_apart = std::adjacent_find(ends.begin(), ends.end(), [](const OpenEnd& x, const OpenEnd& y) {
                           return x.branch == y.branch;
                         }) == ends.end();
  for (std::size_t i = 0; i < half; ++i)
    made.push_back(are_apart ? stretch(ends[2 * i], ends[2 * i + 1]) : stretch(ends[i], ends[i + half]));
}

Stretch Cover::stretch(const OpenEnd& one, const OpenEnd& other) const {
  Stretch stretch{one.point, other.point, {}};
  std::vector<ElementId> back;
  std::uint32_t a = one.leaf, b = other.leaf;
  while (a != b) {
    std::uint32_t& deeper = places_[a].depth >= places_[b].depth ? a : b;
    (deeper == a ? stretch.across : back).push_back(places_[deeper].by);
    deeper = places_[deeper].parent;
  }
  stretch.across.insert(stretch.across.end(), back.rbegin(), back.rend());
  return stretch;
}

}  // namespace ringtrue
