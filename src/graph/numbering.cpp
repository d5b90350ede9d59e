#include "ringtrue/graph/numbering.hpp"

#include <algorithm>

namespace ringtrue {

void Numbering::add(PointId root) {
  if (number_of_[index(root)] != k_unseen) return;
  enter(root, ElementId::none, static_cast<std::uint32_t>(points_.size()));
  while (!stack_.empty()) {
    Frame& frame = stack_.back();
    if (frame.next == frame.end)
      leave();
    else
      follow(frame.number, edges_[frame.next++]);
  }
}

void Numbering::enter(PointId p, ElementId by, std::uint32_t parent) {
  const auto number = static_cast<std::uint32_t>(points_.size());
  number_of_[index(p)] = number;
  points_.push_back({p, by, parent, number, number});
  const auto first = static_cast<std::uint32_t>(edges_.size());
  view_.for_each_hard(p, [this](const View::Edge& edge) { edges_.push_back(edge); });
  stack_.push_back({number, first, first, static_cast<std::uint32_t>(edges_.size())});
}

void Numbering::follow(std::uint32_t from, View::Edge edge) {
  // The way back over the very element we came by does not count; over a parallel one it does.
  if (edge.element != ElementId::none && edge.element == points_[from].by) return;
  const std::uint32_t seen = number_of_[index(edge.to)];
  if (seen == k_unseen)
    enter(edge.to, edge.element, from);
  else
    points_[from].low = std::min(points_[from].low, seen);
}

void Numbering::leave() {
  const Frame done = stack_.back();
  stack_.pop_back();
  edges_.resize(done.first);
  const Point& point = points_[done.number];
  if (stack_.empty()) return;
  Point& parent = points_[point.parent];
  parent.low = std::min(parent.low, point.low);
  parent.last = std::max(parent.last, point.last);
}

void Numbering::forget() {
  for (const Point& point : points_) number_of_[index(point.point)] = k_unseen;
}

}  // namespace ringtrue
