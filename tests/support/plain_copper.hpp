#pragma once
#include <algorithm>
#include <cstdint>
#include <limits>
#include <map>
#include <numeric>
#include <set>
#include <stdexcept>
#include <utility>
#include <vector>

#include "ringtrue/graph/overlay.hpp"
#include "ringtrue/model/netlist.hpp"

namespace ringtrue::testing {

/// A conductor's end, by the conductor's number.
struct PlainEnd {
  std::uint32_t conductor = 0;
  bool is_from = false;
  friend auto operator<=>(const PlainEnd&, const PlainEnd&) = default;
};

/// What is done to copper: ends lifted, and elements taken out, as bits.
struct PlainSetting {
  std::vector<PlainEnd> lifted = {};
  std::uint32_t out = 0;
};

/// Copper alone, as a list of edges numbered as elements are: conductors, rows of parts, implied terminals.
/// For netlists of conductors, terminals, paths and fuses; labels are merged from scratch for every question.
class PlainCopper {
 public:
  struct Edge {
    std::uint32_t a, b;
    bool can_be_lifted;
    bool can_be_opened = false;  ///< a fuse, or the link of a disconnect terminal
  };

  explicit PlainCopper(const Netlist& net) : points_(static_cast<std::uint32_t>(net.points.size())) {
    for (const Conductor& c : net.conductors)
      edges_.push_back({index(c.from), index(c.to), c.kind == ConductorKind::wire});
    for (const Part& part : net.parts) {
      const bool can_be_opened = part.kind == PartKind::fuse || part.kind == PartKind::disconnect;
      if (part.kind != PartKind::terminal && part.kind != PartKind::path && !can_be_opened)
        throw std::logic_error("PlainCopper knows no such part");
      edges_.push_back({index(part.a), index(part.b), false, can_be_opened});
    }
    for (const PlaceId place : net.implied_terminals)
      edges_.push_back({index(net.points.point(place, Side::internal)),
                        index(net.points.point(place, Side::external)), false});
  }

  [[nodiscard]] std::uint32_t points() const { return points_; }
  [[nodiscard]] const std::vector<Edge>& edges() const { return edges_; }
  [[nodiscard]] std::uint32_t count() const { return static_cast<std::uint32_t>(edges_.size()); }

  static constexpr std::uint32_t k_nothing = std::numeric_limits<std::uint32_t>::max();

  /// By point: the first point that it is joined to. Loose ends come after the points, in the order given.
  [[nodiscard]] std::vector<std::uint32_t> labels(const PlainSetting& setting = {},
                                                  std::uint32_t broken = k_nothing) const {
    const std::vector<PlainEnd>& lifted = setting.lifted;
    std::vector<Edge> now = edges_;
    for (std::uint32_t i = 0; i < lifted.size(); ++i)
      (lifted[i].is_from ? now[lifted[i].conductor].a : now[lifted[i].conductor].b) = points_ + i;
    std::vector<std::uint32_t> label(points_ + lifted.size());
    std::iota(label.begin(), label.end(), 0u);
    for (std::uint32_t e = 0; e < now.size(); ++e) {
      if (e == broken || (e < 32 && (setting.out >> e & 1u) != 0)) continue;
      const std::uint32_t x = label[now[e].a], y = label[now[e].b];
      if (x != y) std::replace(label.begin(), label.end(), std::max(x, y), std::min(x, y));
    }
    return label;
  }

  /// By pair of points that beep under the setting: the elements, as bits, whose break silences the pair.
  [[nodiscard]] std::set<std::uint32_t> revealed_by_pairs(const PlainSetting& setting = {}) const {
    std::vector<std::vector<std::uint32_t>> broken;
    for (std::uint32_t e = 0; e < count(); ++e) broken.push_back(labels(setting, e));
    const std::vector<std::uint32_t> drawn = labels(setting);
    std::set<std::uint32_t> revealed;
    for (std::uint32_t p = 0; p < drawn.size(); ++p)
      for (std::uint32_t q = p + 1; q < drawn.size(); ++q) {
        if (drawn[p] != drawn[q]) continue;
        std::uint32_t bits = 0;
        for (std::uint32_t e = 0; e < count(); ++e)
          if (broken[e][p] != broken[e][q]) bits |= 1u << e;
        revealed.insert(bits);
      }
    revealed.erase(0u);
    return revealed;
  }

  /// Points of the copper on which exactly one edge ends, counted within each piece of copper.
  [[nodiscard]] std::map<std::uint32_t, std::uint32_t> leaves_by_net() const {
    std::vector<std::uint32_t> degree(points_, 0);
    for (const Edge& edge : edges_) ++degree[edge.a], ++degree[edge.b];
    const std::vector<std::uint32_t> label = labels();
    std::map<std::uint32_t, std::uint32_t> leaves;
    for (std::uint32_t p = 0; p < points_; ++p)
      if (degree[p] == 1) ++leaves[label[p]];
    return leaves;
  }

 private:
  std::uint32_t points_;
  std::vector<Edge> edges_;
};

/// The fewest of the sets whose union is `all`; sets and `all` as bits. Exact: every union is tried.
inline std::size_t fewest_that_cover(std::uint32_t all, const std::set<std::uint32_t>& sets) {
  std::vector<std::uint32_t> useful;
  for (const std::uint32_t one : sets)
    if (std::none_of(sets.begin(), sets.end(),
                     [&](std::uint32_t other) { return other != one && (one & ~other) == 0; }))
      useful.push_back(one);
  constexpr std::size_t k_never = 1000;
  std::vector<std::size_t> fewest(all + 1u, k_never);
  fewest[0] = 0;
  for (std::uint32_t bits = 0; bits <= all; ++bits)
    if (fewest[bits] != k_never)
      for (const std::uint32_t one : useful)
        fewest[bits | one] = std::min(fewest[bits | one], fewest[bits] + 1);
  return fewest[all];
}

inline std::uint32_t union_of(const std::set<std::uint32_t>& sets) {
  std::uint32_t all = 0;
  for (const std::uint32_t one : sets) all |= one;
  return all;
}

}  // namespace ringtrue::testing
