#pragma once
#include <cstdint>
#include <vector>

#include "ringtrue/graph/view.hpp"

namespace ringtrue {

/// Depth-first numbering of points of a view along its copper: everything behind an element of the tree is a
/// range of numbers, and an element is a single connection if nothing else joins its range to the rest.
///
/// Single connections: Tarjan 1974 (from memory), by element and not by neighbour, so that parallel
/// conductors are none (Boost 1.74 takes one of two parallel edges for a single one). No recursion. Cost:
/// linear in the points and elements numbered.
class Numbering {
 public:
  static constexpr std::uint32_t k_unseen = 0xFFFFFFFFu;

  /// A point as it was met.
  struct Point {
    PointId point;
    ElementId by = ElementId::none;  ///< tree element towards the parent; none at a root
    std::uint32_t parent = 0;        ///< number of the parent; its own at a root
    std::uint32_t low = 0;           ///< least number reached from the range without `by`
    std::uint32_t last = 0;          ///< greatest number in the range behind `by`
  };

  /// `number_of`: by point, loose points included, all `k_unseen` before; kept by the caller, so that it can
  /// be used again. Both must outlive the numbering.
  Numbering(const View& view, std::vector<std::uint32_t>& number_of) : view_(view), number_of_(number_of) {}

  /// Numbers all that copper joins to the point, unless that was done before.
  void add(PointId root);

  /// In order of their numbers: parents before children.
  [[nodiscard]] const std::vector<Point>& points() const { return points_; }
  [[nodiscard]] std::uint32_t number(PointId p) const { return number_of_[index(p)]; }
  /// Nothing but `by` joins the point's range to its parent.
  [[nodiscard]] bool is_single(std::uint32_t number) const {
    return points_[number].by != ElementId::none && points_[number].low > points_[number].parent;
  }
  /// The number lies in the range of the other one, itself included.
  [[nodiscard]] bool is_behind(std::uint32_t number, std::uint32_t root) const {
    return root <= number && number <= points_[root].last;
  }
  /// Makes `number_of` as it was before.
  void forget();

 private:
  /// A point whose edges are being followed: they are `edges_[next, end)`.
  struct Frame {
    std::uint32_t number, first, next, end;
  };
  void enter(PointId p, ElementId by, std::uint32_t parent);
  void follow(std::uint32_t from, View::Edge edge);
  void leave();

  const View& view_;
  std::vector<std::uint32_t>& number_of_;
  std::vector<Point> points_;
  std::vector<View::Edge> edges_;
  std::vector<Frame> stack_;
};

}  // namespace ringtrue
